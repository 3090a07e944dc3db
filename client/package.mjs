/**
 * `npm run package`: builds, and makes `linkwright-<version>.vsix` in the project's folder. The package is put together in a
 * folder of its own, so that the editor gets what it runs and nothing else: the command line stays in the npm package.
 */
import { spawnSync } from 'node:child_process';
import { cpSync, existsSync, mkdtempSync, readFileSync, rmSync, statSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { basename, join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { createVSIX } from '@vscode/vsce';

const project = fileURLToPath(new URL('../', import.meta.url));

const FILES = [
  'dist/client.js', 'dist/client.js.LEGAL.txt', 'dist/server.js', 'dist/server.js.LEGAL.txt',
  'client/media/icon.png', 'client/media/editor.png', 'README.md', 'CHANGELOG.md', 'LICENSE',
];
/** What concerns the making of the project, or its npm package. */
const LEFT_OUT = ['private', 'bin', 'scripts', 'devDependencies'];

/** @returns {Promise<string>} path of the package */
export async function packageExtension() {
  const built = spawnSync(process.execPath, [fileURLToPath(new URL('build.mjs', import.meta.url))], { cwd: project, stdio: 'inherit' });
  if (built.status !== 0) throw new Error('The build failed.');

  const manifest = JSON.parse(readFileSync(join(project, 'package.json'), 'utf8'));
  const packagePath = join(project, `${manifest.name}-${manifest.version}.vsix`);
  const staged = mkdtempSync(join(tmpdir(), 'linkwright-package-'));
  try {
    const files = FILES.filter((file) => existsSync(join(project, file)));
    for (const file of files) cpSync(join(project, file), join(staged, file));
    const kept = Object.entries(manifest).filter(([key]) => !LEFT_OUT.includes(key));
    writeFileSync(join(staged, 'package.json'), JSON.stringify({ ...Object.fromEntries(kept), files }, null, 2));
    await createVSIX({ cwd: staged, packagePath, dependencies: false, rewriteRelativeLinks: false, allowMissingRepository: true });
  } finally {
    rmSync(staged, { recursive: true, force: true });
  }
  return packagePath;
}

if (process.argv[1] === fileURLToPath(import.meta.url)) {
  const path = await packageExtension();
  console.log(`${basename(path)}: ${Math.round(statSync(path).size / 1024)} KiB`);
}
