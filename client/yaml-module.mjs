/**
 * Turns a YAML file of the catalogue into a JavaScript module, so that bundles and tests hold the data and nothing is
 * read from disk at run time. Three forms of one function: for the bundler, for the test runner, and bare. It knows
 * nothing of what the data mean; `server/catalogue/` does.
 */
import { readFile } from 'node:fs/promises';
import { parseDocument } from 'yaml';

/**
 * The module's text: `export default` and the data as JSON.
 *
 * @param {string} text the YAML text; hexadecimal keys and values become decimal numbers, as YAML 1.2 has it
 * @param {string} path named in the error when the text is not valid YAML
 * @returns {string}
 */
export function yamlModule(text, path) {
  const document = parseDocument(text, { version: '1.2', uniqueKeys: true });
  const [problem] = [...document.errors, ...document.warnings];
  if (problem !== undefined) throw new Error(`${path}: ${problem.message}`);
  return `export default ${JSON.stringify(document.toJS({ maxAliasCount: 0 }))};\n`;
}

/** For `esbuild.build({ plugins: [yamlForEsbuild()] })`. */
export function yamlForEsbuild() {
  return {
    name: 'yaml',
    setup(build) {
      build.onLoad({ filter: /\.yaml$/ }, async ({ path }) => ({
        contents: yamlModule(await readFile(path, 'utf8'), path),
        loader: 'js',
        watchFiles: [path],
      }));
    },
  };
}

/** For Vite and Vitest: `plugins: [yamlForVite()]`. */
export function yamlForVite() {
  return {
    name: 'yaml',
    transform(text, path) {
      return path.endsWith('.yaml') ? { code: yamlModule(text, path), map: null } : null;
    },
  };
}
