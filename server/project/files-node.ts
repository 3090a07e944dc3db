/**
 * The file system of Node.js behind the project's interface, and word of changes on disk. Only the roots (`main.ts`,
 * `cli.ts`) import this module; everything else asks the interface.
 */
import { watch as watchFolder, type FSWatcher } from 'node:fs';
import { readdir, readFile, realpath, stat } from 'node:fs/promises';
import { join as joinNative } from 'node:path';
import type { Entry, FileSystem, Stat } from './files.js';
import { join, normalPath } from './paths.js';

export const nodeFiles: FileSystem = {
  async read(path) {
    const bytes = await orUndefined(readFile(path));
    return bytes === undefined ? undefined : new TextDecoder('utf-8').decode(bytes);
  },

  async list(folder) {
    const entries = await orUndefined(readdir(folder, { withFileTypes: true }));
    if (entries === undefined) return undefined;
    const found = await Promise.all(entries.map(async (entry): Promise<Entry | undefined> => {
      if (entry.isDirectory()) return { name: entry.name, kind: 'folder', size: 0 };
      const at = await statOf(joinNative(folder, entry.name));
      return at && { name: entry.name, ...at };
    }));
    return found.filter((entry) => entry !== undefined);
  },

  stat: statOf,

  async real(path) {
    return normalPath(await orUndefined(realpath(path)) ?? path);
  },
};

async function statOf(path: string): Promise<Stat | undefined> {
  const at = await orUndefined(stat(path));
  if (at?.isDirectory()) return { kind: 'folder', size: 0 };
  return at?.isFile() ? { kind: 'file', size: at.size } : undefined;
}

/** A file that vanishes between two looks, or that may not be read, is simply not there. */
async function orUndefined<T>(promise: Promise<T>): Promise<T | undefined> {
  try {
    return await promise;
  } catch {
    return undefined;
  }
}

/**
 * Calls `onChange` with the path of whatever appears, changes or vanishes directly in one of the folders, until the
 * signal is aborted. Each folder is watched by itself, so that those a search skips cost nothing.
 */
export function watchFolders(folders: Iterable<string>, onChange: (path: string) => void, signal: AbortSignal): void {
  for (const folder of folders) {
    let watcher: FSWatcher;
    try {
      watcher = watchFolder(folder, { signal }, (_event, name) => {
        if (name !== null) onChange(join(folder, name));
      });
    } catch {
      continue;
    }
    // A folder that is removed while it is watched: its files are told of by the folder around it.
    watcher.on('error', () => watcher.close());
  }
}
