/**
 * The apps beside this module: whole and small, each in another style, without a fault in the five families. They are
 * what mutants are made of. Only sources, profiles and build files are read, as the checker would.
 *
 * | app | language | style |
 * |---|---|---|
 * | frost-watch | Kotlin | a service; each step of the set-up is started by the completion of the one before |
 * | garden-valves | Kotlin | typed operations in a queue, pumped by the callbacks, with a time-out |
 * | kiln-log | Kotlin | coroutines: a mutex held while a continuation waits, flows, a view model |
 * | camp-lights | Kotlin | everything is a message of one handler; commands are tried again |
 * | roast-probe | TypeScript | a class around the device, with a promise that everything waits on |
 * | reef-light | TypeScript | component hooks with cleanup |
 */
import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { fileKind } from '../../server/project/files.js';

export interface App {
  readonly name: string;
  readonly language: 'kotlin' | 'typescript';
  /** Texts by path; paths begin with the app's name. */
  readonly files: ReadonlyMap<string, string>;
}

const STAND_INS = 'stand-ins';

/** Every app in a folder, in the order of their names. @param folder absolute */
export function appsIn(folder: string): readonly App[] {
  const names = readdirSync(folder, { withFileTypes: true }).filter((entry) => entry.isDirectory() && entry.name !== STAND_INS).map((entry) => entry.name);
  return names.sort().map((name) => appAt(folder, name));
}

export function appAt(folder: string, name: string): App {
  const paths = readdirSync(join(folder, name), { recursive: true, encoding: 'utf8' }).sort()
    .map((path) => `${name}/${path.replaceAll('\\', '/')}`)
    .filter((path) => fileKind(path) !== undefined);
  const files = new Map(paths.map((path) => [path, readFileSync(join(folder, path), 'utf8')]));
  return { name, language: paths.some((path) => path.endsWith('.kt')) ? 'kotlin' : 'typescript', files };
}
