/**
 * Which profile or build file is in force for a source file: the nearest one upward from it. Works on paths as text, with
 * `/` or `\` between folders, relative, absolute or as a URI; it touches no disk.
 */
import type { Problem } from './types.js';

/** The profile in force for a source file: in its folder, or the nearest above; of several in one folder the first by name. */
export function nearestProfile(sourcePath: string, profilePaths: readonly string[]): string | undefined {
  return upward(sourcePath, profilePaths)[0];
}

/** Those of `paths` that stand in the file's folder or above it, nearest first; in one folder by name. */
export function upward(sourcePath: string, paths: readonly string[]): readonly string[] {
  const from = folderOf(sourcePath);
  return paths
    .map((path) => ({ path, folder: folderOf(path) }))
    .filter(({ folder }) => folder === '' ? !from.startsWith('/') : from.startsWith(folder))
    .sort((a, b) => b.folder.length - a.folder.length || byName(a.path, b.path))
    .map(({ path }) => path);
}

/** For each folder with several profiles a problem in each of them, which names them all. */
export function contested(profilePaths: readonly string[]): readonly { readonly path: string; readonly problem: Problem }[] {
  const folders = new Map<string, string[]>();
  for (const path of profilePaths) folders.set(folderOf(path), [...(folders.get(folderOf(path)) ?? []), path]);
  return [...folders.values()].filter(({ length }) => length > 1).flatMap((paths) => {
    const sorted = [...paths].sort(byName);
    const names = sorted.map((path) => path.slice(folderOf(path).length));
    const message = `This folder has ${names.length} device profiles: ${names.join(', ')}. The first one, ${names[0]}, is in force.`;
    return sorted.map((path): { path: string; problem: Problem } => ({ path, problem: { at: { start: 0, end: 0 }, message, severity: 'warning' } }));
  });
}

/** The folder with its closing separator, separators made alike; empty for a bare name. */
function folderOf(path: string): string {
  const alike = path.replaceAll('\\', '/');
  return alike.slice(0, alike.lastIndexOf('/') + 1);
}

function byName(a: string, b: string): number {
  return a < b ? -1 : a > b ? 1 : 0;
}
