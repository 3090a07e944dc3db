/**
 * Starts the installed VS Code on loopback with throwaway data, and opens its workbench in the browser. Nothing leaves the
 * machine: gallery, updates and telemetry are off, and the page may reach loopback only.
 */
import { spawn } from 'node:child_process';
import { closeSync, mkdirSync, mkdtempSync, openSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { get } from 'node:http';
import { createServer } from 'node:net';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { findChromium, host } from './host.mjs';

/** A quiet workbench: what greets, advises, asks or fetches is off. */
const QUIET = {
  'telemetry.telemetryLevel': 'off', 'update.mode': 'none', 'workbench.enableExperiments': false, 'workbench.startupEditor': 'none',
  'workbench.tips.enabled': false, 'extensions.autoCheckUpdates': false, 'extensions.autoUpdate': false, 'extensions.ignoreRecommendations': true,
  'chat.disableAIFeatures': true, 'security.workspace.trust.enabled': false, 'git.enabled': false, 'editor.hover.delay': 100,
  'workbench.secondarySideBar.defaultVisibility': 'hidden', 'editor.accessibilitySupport': 'off', 'window.newWindowProfile': 'Default',
};

/**
 * @param {{ vsix: string[], settings?: object }} options packages to install first, and user settings beyond the quiet ones
 * @returns {Promise<{ url: string, installed: number, stop(): Promise<void> }>} `installed`: milliseconds that the packages took
 */
export async function startServer({ vsix, settings = {} }) {
  const data = mkdtempSync(join(tmpdir(), 'linkwright-vscode-'));
  const user = join(data, 'data');
  const extensions = join(data, 'extensions');
  mkdirSync(join(user, 'User'), { recursive: true });
  mkdirSync(extensions);
  writeFileSync(join(user, 'User/settings.json'), JSON.stringify({ ...QUIET, ...settings }));
  writeFileSync(join(data, 'config.yaml'), 'auth: none\n');
  const dirs = ['--config', join(data, 'config.yaml'), '--user-data-dir', user, '--extensions-dir', extensions];
  // A workbench started from a terminal inside VS Code would otherwise talk to that one.
  const inherited = Object.entries(process.env).filter(([name]) => !name.startsWith('VSCODE_'));
  const env = { ...Object.fromEntries(inherited), EXTENSIONS_GALLERY: '{}', HOME: data, TMPDIR: data, XDG_CONFIG_HOME: join(data, 'config'), XDG_DATA_HOME: join(data, 'share') };

  const begun = performance.now();
  if (vsix.length > 0) await installExtensions(vsix, dirs, env);
  const installed = Math.round(performance.now() - begun);

  const port = await freePort();
  const logFile = join(data, 'server.log');
  const log = openSync(logFile, 'w');
  const flags = ['--bind-addr', `127.0.0.1:${port}`, '--auth', 'none', '--disable-telemetry', '--disable-update-check', '--disable-workspace-trust', '--disable-proxy'];
  // The workbench takes the suite to run from its address only with this option.
  const server = spawn(host.node, [host.entry, ...dirs, ...flags, '--vscode-option', 'enable-smoke-test-driver'], { env, stdio: ['ignore', log, log], detached: true });
  closeSync(log);
  const url = `http://127.0.0.1:${port}`;
  const stop = async () => {
    await endGroup(server);
    rmSync(data, { recursive: true, force: true, maxRetries: 5, retryDelay: 100 });
  };
  const deadline = performance.now() + 60_000;
  while (!(await answers(`${url}/healthz`))) {
    if (server.exitCode !== null || performance.now() > deadline) {
      const last = readFileSync(logFile, 'utf8').slice(-2000);
      await stop();
      throw new Error(`The editor's server did not come up:\n${last}`);
    }
    await pause(50);
  }
  return { url, installed, stop };
}

/**
 * @param {string} url
 * @param {{ width?: number, height?: number, scale?: number, before?(page: import('playwright-core').Page): Promise<void> }} [options]
 *   window in CSS pixels; `before` runs on the page before it is loaded
 */
export async function openBrowser(url, { width = 1400, height = 900, scale = 1, before } = {}) {
  const { chromium } = await import(host.driver);
  const quiet = ['--no-sandbox', '--disable-gpu', '--disable-quic', '--no-first-run', '--disable-background-networking', '--disable-component-update', '--disable-sync'];
  const browser = await chromium.launch({ executablePath: findChromium(), headless: true, args: quiet });
  const context = await browser.newContext({ viewport: { width, height }, deviceScaleFactor: scale, permissions: ['clipboard-read', 'clipboard-write'] });
  const page = await context.newPage();
  await page.route('**/*', (route) => (new URL(route.request().url()).hostname === '127.0.0.1' ? route.continue() : route.abort()));
  await before?.(page);
  await page.goto(url);
  return { page, close: () => browser.close() };
}

function installExtensions(vsix, dirs, env) {
  return new Promise((resolve, reject) => {
    const child = spawn(host.node, [host.entry, ...dirs, ...vsix.flatMap((file) => ['--install-extension', file])], { env });
    let said = '';
    child.stdout.on('data', (data) => (said += data));
    child.stderr.on('data', (data) => (said += data));
    child.on('error', reject);
    child.on('exit', (code) => {
      if (code === 0 && /successfully installed/.test(said)) resolve();
      else reject(new Error(`The editor refused the extension (status ${code}):\n${said}`));
    });
  });
}

/** Ends a process and those it started: politely, and after three seconds by force. */
async function endGroup(child) {
  const gone = child.exitCode !== null ? Promise.resolve() : new Promise((resolve) => child.once('exit', resolve));
  const signal = (name) => {
    try {
      process.kill(-child.pid, name);
      return true;
    } catch {
      return false;
    }
  };
  signal('SIGTERM');
  await Promise.race([gone, pause(3000)]);
  for (let tries = 0; tries < 50 && signal('SIGKILL'); tries++) await pause(50);
}

function answers(url) {
  return new Promise((resolve) => {
    const request = get(url, (response) => {
      response.resume();
      resolve(response.statusCode === 200);
    });
    request.on('error', () => resolve(false));
    request.setTimeout(2000, () => request.destroy());
  });
}

function freePort() {
  return new Promise((resolve, reject) => {
    const probe = createServer();
    probe.on('error', reject);
    probe.listen(0, '127.0.0.1', () => {
      const { port } = probe.address();
      probe.close(() => resolve(port));
    });
  });
}

const pause = (milliseconds) => new Promise((resolve) => setTimeout(resolve, milliseconds));
