/** Real sources to try the TypeScript front end on: those of installed packages of general use, and our own. */
import { readdirSync, readFileSync, statSync } from 'node:fs';
import { join, relative } from 'node:path';
import { fileURLToPath } from 'node:url';

const root = fileURLToPath(new URL('../../', import.meta.url));

/** Packages with hand-written sources, declaration files and modules in many styles. */
const PACKAGES = [
  '@types/node', '@types/vscode', '@types/web-bluetooth', 'ajv', 'fast-check', 'vitest', 'vscode-languageserver',
  'vscode-languageserver-protocol', 'yaml',
];
const OWN = ['client', 'rules', 'server', 'test/lower'];

export interface Source {
  /** Relative to the project, with forward slashes. */
  readonly path: string;
  readonly text: string;
}

/** All sources, or only our own. Files beyond 200 kB are left out. */
export function corpus(which: 'all' | 'own'): Source[] {
  const folders = [...OWN, ...(which === 'all' ? PACKAGES.map((name) => `node_modules/${name}`) : [])];
  return folders.flatMap((folder) => filesIn(join(root, folder))).map((path) => ({
    path: relative(root, path).replaceAll('\\', '/'), text: readFileSync(path, 'utf8'),
  }));
}

function filesIn(folder: string): string[] {
  return readdirSync(folder, { withFileTypes: true }).flatMap((entry) => {
    const path = join(folder, entry.name);
    if (entry.isDirectory()) return filesIn(path);
    return /\.([cm]?[jt]s|[jt]sx)$/.test(entry.name) && statSync(path).size < 200_000 ? [path] : [];
  }).sort();
}
