/**
 * The same suite in the desktop VS Code, through `@vscode/test-electron`: the editor named in VSCODE_EXECUTABLE, or one that
 * it downloads itself, for which it needs a network. The extension is installed from its package here too. `run.mjs` is what
 * `npm test` runs: it needs no download.
 */
import { spawnSync } from 'node:child_process';
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { downloadAndUnzipVSCode, resolveCliArgsFromVSCodeExecutablePath, runTests } from '@vscode/test-electron';
import { packageExtension } from '../../client/package.mjs';
import { bundleSuite, emptyExtension } from './in-host.mjs';
import { report } from './report.mjs';
import { withCopy } from './workspaces.mjs';

const folder = mkdtempSync(join(tmpdir(), 'linkwright-electron-'));
try {
  const named = process.env.VSCODE_EXECUTABLE;
  const vscodeExecutablePath = named ?? (await downloadAndUnzipVSCode());
  console.log(`editor: the suite runs in the desktop VS Code, ${named ? 'as VSCODE_EXECUTABLE names it' : 'as downloaded'}`);
  const dirs = ['--user-data-dir', join(folder, 'user'), '--extensions-dir', join(folder, 'extensions')];
  installExtension(vscodeExecutablePath, await packageExtension(), dirs);

  const suite = await bundleSuite(folder);
  await withCopy('one-link', async (workspace) => {
    const options = { vscodeExecutablePath, extensionDevelopmentPath: emptyExtension(folder), extensionTestsPath: suite.module };
    const launchArgs = [workspace, ...dirs, '--disable-workspace-trust', '--skip-welcome'];
    // A test that failed makes the whole run fail; which one it was stands in the outcomes.
    await runTests({ ...options, launchArgs }).catch((error) => console.log(String(error)));
  });
  report(suite.outcomes() ?? [{ name: 'the suite in the desktop VS Code', milliseconds: 0, error: 'it left no outcomes' }]);
} catch (error) {
  // The typical one: no network for the download.
  report([{ name: 'a desktop VS Code starts', milliseconds: 0, error: String(error) }]);
} finally {
  rmSync(folder, { recursive: true, force: true });
}

function installExtension(executable, vsix, dirs) {
  const [cli, ...args] = resolveCliArgsFromVSCodeExecutablePath(executable);
  const ran = spawnSync(cli, [...args, ...dirs, '--install-extension', vsix, '--force'], { encoding: 'utf8', shell: process.platform === 'win32' });
  if (ran.status !== 0) throw new Error(`The editor refused the extension: ${ran.stderr || ran.stdout || String(ran.error)}`);
}
