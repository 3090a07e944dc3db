/** Brings the files of a file system into a project: all of them at the beginning, single ones when they change on disk. */
import { discover, fileKind, LARGEST_FILE, type FileSystem, type Found } from './files.js';
import type { Change } from './snapshot.js';

export interface Loaded {
  readonly found: Found;
  readonly changes: readonly Change[];
  /** What was left out, and why. */
  readonly notes: Found['notes'];
}

/** Files read at once: enough to keep a disk busy, few enough for any limit on open files. */
const AT_ONCE = 32;

/** Finds and reads all that concerns us below `roots`. */
export async function load(fs: FileSystem, roots: readonly string[]): Promise<Loaded> {
  const found = await discover(fs, roots);
  const paths = [...found.profiles, ...found.builds, ...found.sources];
  const changes: Change[] = [];
  const notes = [...found.notes];
  for (let from = 0; from < paths.length; from += AT_ONCE) {
    const some = paths.slice(from, from + AT_ONCE);
    const texts = await Promise.all(some.map((path) => fs.read(path)));
    some.forEach((path, i) => {
      const text = texts[i];
      if (text === undefined) notes.push({ path, message: 'The file cannot be read.' });
      else changes.push({ is: 'disk', path, text });
    });
  }
  return { found, changes, notes };
}

/** What changed on disk at these paths, for those that concern us; a path where nothing stands any more is gone. */
export async function reload(fs: FileSystem, paths: Iterable<string>): Promise<Change[]> {
  const concerned = [...new Set(paths)].filter((path) => fileKind(path) !== undefined).sort();
  return Promise.all(concerned.map(async (path): Promise<Change> => {
    const stat = await fs.stat(path);
    const text = stat?.kind === 'file' && stat.size <= LARGEST_FILE ? await fs.read(path) : undefined;
    return { is: 'disk', path, ...(text !== undefined && { text }) };
  }));
}
