/**
 * `npm run build`: bundles the three programs into `dist/`, each whole in one file, so that neither the extension nor the
 * package needs anything installed beside it: the client inside VS Code, the language server, the command line.
 */
import { chmodSync, rmSync, statSync } from 'node:fs';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { build } from 'esbuild';
import { pagesForEsbuild } from './pages-module.mjs';
import { yamlForEsbuild } from './yaml-module.mjs';

const project = fileURLToPath(new URL('../', import.meta.url));

/** @type {Record<'client' | 'server' | 'cli', import('esbuild').BuildOptions>} */
const programs = {
  client: { entryPoints: ['client/main.ts'], external: ['vscode'] },
  server: { entryPoints: ['server/main.ts'] },
  cli: { entryPoints: ['server/cli.ts'], banner: { js: '#!/usr/bin/env node' } },
};

/**
 * Bundles one program.
 *
 * @param {keyof typeof programs} name
 * @param {string} folder absolute
 * @returns {Promise<string>} path of the bundle
 */
export async function bundle(name, folder) {
  const outfile = join(folder, `${name}.js`);
  await build({
    ...programs[name],
    outfile,
    absWorkingDir: project,
    bundle: true,
    platform: 'node',
    target: 'node20',
    format: 'cjs',
    minify: true,
    legalComments: 'linked',
    logLevel: 'warning',
    plugins: [yamlForEsbuild(), pagesForEsbuild()],
  });
  if (name === 'cli') chmodSync(outfile, 0o755);
  return outfile;
}

async function buildAll() {
  const dist = join(project, 'dist');
  rmSync(dist, { recursive: true, force: true });
  for (const name of /** @type {const} */ (['client', 'server', 'cli'])) {
    const path = await bundle(name, dist);
    console.log(`dist/${name}.js: ${Math.round(statSync(path).size / 1024)} KiB`);
  }
}

if (process.argv[1] === fileURLToPath(import.meta.url)) {
  try {
    await buildAll();
  } catch (error) {
    // Of errors in what it bundles, the bundler has said by now what is wrong, and where.
    if (!Array.isArray(error.errors)) throw error;
    process.exitCode = 1;
  }
}
