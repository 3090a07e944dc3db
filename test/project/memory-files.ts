import type { Entry, FileSystem } from '../../server/project/files.js';
import { folderOf, join } from '../../server/project/paths.js';

/** A file system that holds these texts by absolute path. */
export function memoryFiles(texts: Readonly<Record<string, string>>): FileSystem {
  const folders = new Map<string, Map<string, Entry>>([['/', new Map()]]);
  const add = (path: string, entry: Omit<Entry, 'name'>): void => {
    const folder = folderOf(path);
    if (!folders.has(folder)) {
      folders.set(folder, new Map());
      add(folder, { kind: 'folder', size: 0 });
    }
    const name = path.slice(join(folder, '').length);
    folders.get(folder)!.set(name, { name, ...entry });
  };
  for (const [path, text] of Object.entries(texts)) add(path, { kind: 'file', size: text.length });
  return {
    read: async (path) => texts[path],
    list: async (folder) => folders.has(folder) ? [...folders.get(folder)!.values()] : undefined,
    stat: async (path) => (folders.has(path) ? { kind: 'folder', size: 0 } : path in texts ? { kind: 'file', size: texts[path]!.length } : undefined),
    real: async (path) => path,
  };
}
