/**
 * `npm run package`: builds, and makes `linkwright-<version>.vsix` in the project's folder. What goes into it is the list
 * `files` of package.json, which an npm package takes too; the bundles need no dependencies.
 */
import { spawnSync } from 'node:child_process';
import { readFileSync, statSync } from 'node:fs';
import { basename, join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { createVSIX } from '@vscode/vsce';

const project = fileURLToPath(new URL('../', import.meta.url));

/** @returns {Promise<string>} path of the package */
export async function packageExtension() {
  const built = spawnSync(process.execPath, [fileURLToPath(new URL('build.mjs', import.meta.url))], { cwd: project, stdio: 'inherit' });
  if (built.status !== 0) throw new Error('The build failed.');
  const { name, version } = JSON.parse(readFileSync(join(project, 'package.json'), 'utf8'));
  const packagePath = join(project, `${name}-${version}.vsix`);
  await createVSIX({ cwd: project, packagePath, dependencies: false, rewriteRelativeLinks: false, skipLicense: true });
  return packagePath;
}

if (process.argv[1] === fileURLToPath(import.meta.url)) {
  const path = await packageExtension();
  console.log(`${basename(path)}: ${Math.round(statSync(path).size / 1024)} KiB`);
}
