/**
 * Paths as the project writes them: absolute, with forward slashes on every system, so that equal files have equal
 * paths. Only text is handled here; what stands at a path is `files.ts`.
 */

/** `C:\app\a.kt` becomes `C:/app/a.kt`; a POSIX path stays as it is, but for a slash at its end. */
export function normalPath(path: string): string {
  const slashes = /^[A-Za-z]:[\\/]/.test(path) || path.startsWith('\\\\') ? path.replaceAll('\\', '/') : path;
  return slashes.length > 1 && slashes.endsWith('/') && !/^[A-Za-z]:\/$/.test(slashes) ? slashes.slice(0, -1) : slashes;
}

/** The folder around a path; a root is its own. */
export function folderOf(path: string): string {
  const cut = path.lastIndexOf('/');
  if (cut < 0) return path;
  if (cut === 0) return '/';
  return /^[A-Za-z]:$/.test(path.slice(0, cut)) ? path.slice(0, cut + 1) : path.slice(0, cut);
}

/** The last part of a path. */
export function baseName(path: string): string {
  return path.slice(path.lastIndexOf('/') + 1);
}

export function join(folder: string, name: string): string {
  return folder.endsWith('/') ? folder + name : `${folder}/${name}`;
}

/** The folder itself and all around it, nearest first. */
export function upward(folder: string): string[] {
  const folders = [folder];
  for (let next = folderOf(folder); next !== folders.at(-1); next = folderOf(next)) folders.push(next);
  return folders;
}

export function isBelow(path: string, folder: string): boolean {
  return path === folder || path.startsWith(join(folder, ''));
}

/** `path` as it is written from `base`: below it without a lead, elsewhere with `../` as often as needed. */
export function relativePath(base: string, path: string): string {
  if (isBelow(path, base)) return path === base ? '.' : path.slice(join(base, '').length);
  const around = upward(base);
  const common = around.findIndex((folder) => isBelow(path, folder));
  if (common < 0) return path;
  return '../'.repeat(common) + path.slice(join(around[common]!, '').length);
}

/** The deepest folder that all paths lie in; `undefined` where there is none (two drives, or no path). */
export function commonFolder(folders: readonly string[]): string | undefined {
  const [first, ...rest] = folders;
  return first === undefined ? undefined : upward(first).find((folder) => rest.every((other) => isBelow(other, folder)));
}
