/**
 * `import pages from 'linkwright:pages'` gives every rule's page by the rule's id, so that bundles hold the pages and read
 * none from disk. A page stands beside its rule: `rules/<family>/<id>.md`. Only the roots import it.
 */
import { readdir, readFile } from 'node:fs/promises';
import { basename, join } from 'node:path';
import { fileURLToPath } from 'node:url';

const rules = fileURLToPath(new URL('../rules/', import.meta.url));

/** For `esbuild.build({ plugins: [pagesForEsbuild()] })`. */
export function pagesForEsbuild() {
  return {
    name: 'pages',
    setup(build) {
      build.onResolve({ filter: /^linkwright:pages$/ }, ({ path }) => ({ path, namespace: 'pages' }));
      build.onLoad({ filter: /.*/, namespace: 'pages' }, async () => {
        const paths = await pagePaths();
        const pages = await Promise.all(paths.map(async (path) => [basename(path, '.md'), await readFile(path, 'utf8')]));
        return { contents: JSON.stringify(Object.fromEntries(pages)), loader: 'json', watchFiles: paths };
      });
    },
  };
}

async function pagePaths() {
  const files = await readdir(rules, { recursive: true });
  return files.filter((file) => /^[^/\\]+[/\\][^/\\]+\.md$/.test(file)).sort().map((file) => join(rules, file));
}
