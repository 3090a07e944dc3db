/** From the paths that the user named to what is read, and what of it is to be reported. */
import { fileKind, projectFolder, type FileSystem, type Found } from '../project/files.js';
import { isBelow } from '../project/paths.js';
import { nearestProfile } from '../profile/nearest.js';

export interface Inputs {
  /** Folders to read: those that were named, and the projects of files that were. */
  readonly roots: readonly string[];
  /** Whether a source or profile was named, by itself or by a folder around it. */
  isNamed(path: string): boolean;
}

/** @param paths absolute @returns a sentence where one of them is nothing that can be checked */
export async function inputsOf(fs: FileSystem, paths: readonly string[], shown: (path: string) => string): Promise<Inputs | { readonly refused: string }> {
  const folders: string[] = [];
  const files: string[] = [];
  for (const path of paths) {
    const stat = await fs.stat(path);
    if (stat === undefined) return { refused: `There is no file or folder ${shown(path)}.` };
    if (stat.kind === 'folder') folders.push(path);
    else if (fileKind(path) === 'source' || fileKind(path) === 'profile') files.push(path);
    else return { refused: `${shown(path)} is no Kotlin or TypeScript source and no device profile.` };
  }
  const projects = await Promise.all(files.map((file) => projectFolder(fs, file)));
  return {
    // A named file is a root too: its project's folder may be one that a search would not enter.
    roots: [...new Set([...folders, ...projects, ...files])],
    isNamed: (path) => files.includes(path) || folders.some((folder) => isBelow(path, folder)),
  };
}

/** What is checked: the sources and profiles that were named, and the profiles in force for those sources. */
export function wantedOf(inputs: Inputs, found: Pick<Found, 'sources' | 'profiles'>): (path: string) => boolean {
  const inForce = new Set(found.sources.filter(inputs.isNamed).map((source) => nearestProfile(source, found.profiles)));
  return (path) => inputs.isNamed(path) || inForce.has(path);
}
