/**
 * What the project asks of a file system, and which of its files concern us. Everything is asynchronous, so that an
 * editor in a browser can serve it too; the one for Node.js is `files-node.ts`.
 */
import { baseName, folderOf, join, upward } from './paths.js';

export interface FileSystem {
  /** The text of a file, without a byte order mark; `undefined` when there is none or it cannot be read. */
  read(path: string): Promise<string | undefined>;
  /** What a folder holds, links followed; `undefined` when it is no folder or cannot be read. */
  list(folder: string): Promise<readonly Entry[] | undefined>;
  /** What stands at a path, links followed; `undefined` for nothing. */
  stat(path: string): Promise<Stat | undefined>;
  /** The path without links in it, by which two ways to one folder are known to be the same. */
  real(path: string): Promise<string>;
}

export interface Stat {
  readonly kind: 'file' | 'folder';
  /** Bytes; 0 for a folder. */
  readonly size: number;
}

export interface Entry extends Stat {
  readonly name: string;
}

export interface Found {
  /** Sources that a front end reads, in the order of their paths. */
  readonly sources: readonly string[];
  /** Device profiles: below the roots, and in the folders around them. */
  readonly profiles: readonly string[];
  /** `build.gradle` and `build.gradle.kts`, likewise. */
  readonly builds: readonly string[];
  /** Folders that were searched, for whoever wants to watch them. */
  readonly folders: readonly string[];
  /** Files left out, each with the reason as a sentence. */
  readonly notes: readonly { readonly path: string; readonly message: string }[];
}

export type FileKind = 'source' | 'profile' | 'build';

/** Beyond this a source is made by a program or is data, and nobody reads findings about it. Bytes. */
export const LARGEST_FILE = 2 * 1024 * 1024;

/** Folders that hold nothing a person wrote: dependencies, results of a build, stores of tools. */
const SKIPPED = new Set(['node_modules', 'build', 'dist', 'generated', 'bower_components']);

/** What a file's name says it is; `undefined` for files that do not concern us. */
export function fileKind(path: string): FileKind | undefined {
  const name = baseName(path);
  if (/\.device\.ya?ml$/.test(name)) return 'profile';
  if (name === 'build.gradle' || name === 'build.gradle.kts') return 'build';
  return /\.(?:kt|[cm]?[jt]s|[jt]sx|vue|svelte)$/.test(name) && !/\.min\.[cm]?js$/.test(name) ? 'source' : undefined;
}

/** Whether a search enters a folder of that name. A root is searched whatever its name. */
export function isSearched(name: string): boolean {
  return !name.startsWith('.') && !SKIPPED.has(name);
}

/**
 * Finds what concerns us below `roots` (folders, or single files). Profiles and builds are also taken from the folders
 * around a root, as the nearest one upward is in force, up to the folder of the repository (the one that holds `.git`).
 */
export async function discover(fs: FileSystem, roots: readonly string[]): Promise<Found> {
  const search = new Search(fs);
  for (const root of roots) {
    const stat = await fs.stat(root);
    if (stat?.kind === 'folder') await search.folder(root);
    else if (stat?.kind === 'file') search.file(root, stat.size);
    await search.around(stat?.kind === 'folder' ? root : folderOf(root));
  }
  return search.found();
}

class Search {
  private readonly paths: Record<FileKind, Set<string>> = { source: new Set(), profile: new Set(), build: new Set() };
  private readonly notes = new Map<string, string>();
  private readonly folders = new Set<string>();
  /** Real paths: a link back up, or two links to one folder, are entered once. */
  private readonly entered = new Set<string>();

  constructor(private readonly fs: FileSystem) {}

  async folder(path: string): Promise<void> {
    const real = await this.fs.real(path);
    if (this.entered.has(real)) return;
    this.entered.add(real);
    const entries = await this.fs.list(path);
    if (entries === undefined) {
      this.notes.set(path, 'The folder cannot be read.');
      return;
    }
    this.folders.add(path);
    for (const entry of inNameOrder(entries)) {
      if (entry.kind === 'file') this.file(join(path, entry.name), entry.size);
      else if (isSearched(entry.name)) await this.folder(join(path, entry.name));
    }
  }

  file(path: string, size: number): void {
    const kind = fileKind(path);
    if (kind === undefined) return;
    if (size > LARGEST_FILE) this.notes.set(path, `The file is larger than ${LARGEST_FILE / 1024 / 1024} MB and was left out.`);
    else this.paths[kind].add(path);
  }

  async around(root: string): Promise<void> {
    for (const folder of upward(root)) {
      const entries = await this.fs.list(folder);
      for (const entry of inNameOrder(entries ?? [])) {
        if (entry.kind !== 'file' || fileKind(entry.name) === 'source') continue;
        this.file(join(folder, entry.name), entry.size);
      }
      if (entries?.some((entry) => entry.name === '.git')) return;
    }
  }

  found(): Found {
    const sorted = (paths: Iterable<string>): string[] => [...paths].sort(byCodeUnit);
    return {
      sources: sorted(this.paths.source),
      profiles: sorted(this.paths.profile),
      builds: sorted(this.paths.build),
      folders: sorted(this.folders),
      notes: [...this.notes].map(([path, message]) => ({ path, message })).sort((a, b) => byCodeUnit(a.path, b.path)),
    };
  }
}

function inNameOrder(entries: readonly Entry[]): Entry[] {
  return [...entries].sort((a, b) => byCodeUnit(a.name, b.name));
}

/** The same order on every machine and in every language. */
function byCodeUnit(a: string, b: string): number {
  return a < b ? -1 : a > b ? 1 : 0;
}

/** Files that stand where a project begins. */
const BEGINS_PROJECT = /^(?:settings\.gradle(?:\.kts)?|package\.json|\.git|.*\.device\.ya?ml)$/;

/**
 * The folder that a single file is to be read with, since helpers in its neighbours decide about it: the nearest one
 * upward in which a project begins, else the file's own.
 */
export async function projectFolder(fs: FileSystem, file: string): Promise<string> {
  for (const folder of upward(folderOf(file))) {
    const entries = await fs.list(folder);
    if (entries?.some((entry) => BEGINS_PROJECT.test(entry.name))) return folder;
  }
  return folderOf(file);
}
