/**
 * Runs the module in `suite/` in the extension host of the installed VS Code, the extension installed from its package: what
 * `runTests` of `@vscode/test-electron` does, for the editor in the browser.
 */
import { mkdirSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { build } from 'esbuild';
import { openBrowser, startServer } from './vscode.mjs';
import { withCopy } from './workspaces.mjs';

/** The whole run, the editor's start included. */
const LIMIT_MS = 300_000;

/**
 * Bundles the suite into `folder`; the host loads it from there and the outcomes are left beside it.
 * @returns {Promise<{ module: string, outcomes(): import('./suite/harness.js').Outcome[] | undefined }>}
 */
export async function bundleSuite(folder) {
  const module = join(folder, 'suite.cjs');
  const entry = fileURLToPath(new URL('suite/index.ts', import.meta.url));
  await build({ entryPoints: [entry], outfile: module, bundle: true, platform: 'node', format: 'cjs', target: 'node20', external: ['vscode'], logLevel: 'warning' });
  const outcomes = () => {
    try {
      return JSON.parse(readFileSync(join(folder, 'outcomes.json'), 'utf8'));
    } catch {
      return undefined;
    }
  };
  return { module, outcomes };
}

/** An extension that is nothing: a host that runs tests wants one under development, and ours is installed. */
export function emptyExtension(folder) {
  const path = join(folder, 'empty-extension');
  mkdirSync(path, { recursive: true });
  writeFileSync(join(path, 'package.json'), JSON.stringify({ name: 'empty', publisher: 'none', version: '0.0.0', engines: { vscode: '*' } }));
  return path;
}

/** @param {string} vsix @returns {Promise<import('./suite/harness.js').Outcome[]>} */
export async function runInHost(vsix) {
  const folder = mkdtempSync(join(tmpdir(), 'linkwright-suite-'));
  try {
    const suite = await bundleSuite(folder);
    const said = await withCopy('one-link', (workspace) => show(vsix, suite.module, emptyExtension(folder), workspace));
    const outcomes = suite.outcomes();
    if (!outcomes) throw new Error(`The suite left no outcomes.\n${said.join('\n').slice(-4000)}`);
    return outcomes;
  } finally {
    rmSync(folder, { recursive: true, force: true });
  }
}

/** Opens the workbench on the workspace with the suite, and waits until the host says that it has ended. */
async function show(vsix, module, extension, workspace) {
  const server = await startServer({ vsix: [vsix] });
  const said = [];
  try {
    const remote = (path) => `vscode-remote://${new URL(server.url).host}${path}`;
    const payload = [['extensionDevelopmentPath', remote(extension)], ['extensionTestsPath', remote(module)]];
    const address = `${server.url}/?folder=${encodeURIComponent(workspace)}&payload=${encodeURIComponent(JSON.stringify(payload))}`;
    let end;
    const ended = new Promise((resolve) => (end = resolve));
    const browser = await openBrowser(address, {
      before: async (page) => {
        await page.exposeFunction('codeAutomationLog', (type, args) => void said.push(`${type}: ${args.join(' ')}`));
        await page.exposeFunction('codeAutomationExit', () => end());
      },
    });
    let timer;
    const late = new Promise((resolve) => (timer = setTimeout(resolve, LIMIT_MS)));
    await Promise.race([ended, late]);
    clearTimeout(timer);
    await browser.close();
  } finally {
    await server.stop();
  }
  return said;
}
