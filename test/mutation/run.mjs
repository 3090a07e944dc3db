/** `npm run mutate`: bundles `main.ts` and runs it; what it does is told there. */
import { mkdirSync } from 'node:fs';
import { join } from 'node:path';
import { fileURLToPath, pathToFileURL } from 'node:url';
import { build } from 'esbuild';
import { yamlForEsbuild } from '../../client/yaml-module.mjs';

const project = fileURLToPath(new URL('../../', import.meta.url));
const folder = join(project, 'node_modules/.cache/linkwright');
const outfile = join(folder, 'mutation.mjs');

mkdirSync(folder, { recursive: true });
await build({
  entryPoints: [join(project, 'test/mutation/main.ts')], outfile,
  bundle: true, packages: 'external', platform: 'node', target: 'node20', format: 'esm', logLevel: 'warning',
  plugins: [yamlForEsbuild()],
});
const { run } = await import(pathToFileURL(outfile).href);
process.exitCode = run(join(project, 'test'), process.argv.slice(2));
