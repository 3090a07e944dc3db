/**
 * `npm run build`: bundles the three programs into `dist/`, each whole in one file, so that neither the extension nor the
 * package needs anything installed beside it: the client inside VS Code, the language server, the command line.
 */
import { chmodSync, rmSync, statSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { build } from 'esbuild';
import { textForEsbuild } from './text-module.mjs';
import { yamlForEsbuild } from './yaml-module.mjs';

const project = fileURLToPath(new URL('../', import.meta.url));

/** @type {import('esbuild').BuildOptions} */
const common = {
  absWorkingDir: project,
  bundle: true,
  platform: 'node',
  target: 'node20',
  format: 'cjs',
  minify: true,
  legalComments: 'linked',
  logLevel: 'warning',
  plugins: [yamlForEsbuild(), textForEsbuild()],
};

const programs = [
  { entryPoints: ['client/main.ts'], outfile: 'dist/client.js', external: ['vscode'] },
  { entryPoints: ['server/main.ts'], outfile: 'dist/server.js' },
  { entryPoints: ['server/cli.ts'], outfile: 'dist/cli.js', banner: { js: '#!/usr/bin/env node' } },
];

rmSync(new URL('../dist', import.meta.url), { recursive: true, force: true });
for (const program of programs) {
  await build({ ...common, ...program });
  const path = new URL(`../${program.outfile}`, import.meta.url);
  console.log(`${program.outfile}: ${Math.round(statSync(path).size / 1024)} KiB`);
}
chmodSync(new URL('../dist/cli.js', import.meta.url), 0o755);
