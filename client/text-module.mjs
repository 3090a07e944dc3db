/**
 * `import page from './page.md?raw'` gives the text of a file, so that bundles hold the rules' pages and read none from
 * disk. The test runner knows this form by itself; this is the bundler's side of it.
 */
import { readFile } from 'node:fs/promises';
import { dirname, resolve } from 'node:path';

/** For `esbuild.build({ plugins: [textForEsbuild()] })`. */
export function textForEsbuild() {
  return {
    name: 'text',
    setup(build) {
      build.onResolve({ filter: /\?raw$/ }, ({ path, importer }) => ({
        path: resolve(dirname(importer), path.replace(/\?raw$/, '')),
        namespace: 'text',
      }));
      build.onLoad({ filter: /.*/, namespace: 'text' }, async ({ path }) => ({
        contents: await readFile(path, 'utf8'),
        loader: 'text',
        watchFiles: [path],
      }));
    },
  };
}
