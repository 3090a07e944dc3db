/**
 * Takes the picture of the editor that README shows: the demo workspace, a file with findings, the problem list. Nothing is
 * drawn in: it is what the installed package shows in a real VS Code. Taken only when asked for (`--pictures`).
 */
import { mkdirSync, mkdtempSync, readFileSync, rmSync, statSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join, relative } from 'node:path';
import { createVSIX } from '@vscode/vsce';
import { HOST, PROJECT } from './host.mjs';
import { openBrowser, startServer } from './vscode.mjs';
import { Workbench } from './workbench.mjs';
import { withCopy } from './workspaces.mjs';

const PICTURE = join(PROJECT, 'client/media/editor.png');
const FILE = 'CalibrationSession.kt';
/** One of its findings, the others around it. */
const LINE = 40;

/** Code large enough to read in README, and room for it. */
const SETTINGS = {
  'editor.minimap.enabled': false, 'editor.fontSize': 13, 'editor.lineHeight': 19, 'workbench.layoutControl.enabled': false,
  'breadcrumbs.enabled': false, 'window.commandCenter': false, 'editor.stickyScroll.enabled': false,
};

/** @param {string} vsix */
export async function takePicture(vsix) {
  const folder = mkdtempSync(join(tmpdir(), 'linkwright-picture-'));
  const server = await startServer({ vsix: [vsix, await kotlinColours(folder)], settings: SETTINGS });
  try {
    await withCopy('hive-scale', (workspace) => photograph(server.url, workspace));
  } finally {
    await server.stop();
    rmSync(folder, { recursive: true, force: true });
  }
  console.log(`editor: ${relative(PROJECT, PICTURE)} taken, ${Math.round(statSync(PICTURE).size / 1024)} KiB`);
}

async function photograph(url, workspace) {
  const { page, close } = await openBrowser(`${url}/?folder=${encodeURIComponent(workspace)}`, { width: 1240, height: 860, scale: 1.5 });
  try {
    const bench = new Workbench(page);
    await bench.ready();
    await bench.open(FILE, 'class CalibrationSession');
    await bench.waitFor('.monaco-editor .squiggly-warning');
    await bench.press('Control+B');
    await bench.press('Control+Shift+M');
    await bench.onlyActiveFile();
    await bench.lowerPanel(120);
    await bench.goTo(LINE);
    await bench.waitFor('.monaco-editor .squiggly-warning');
    await bench.away();
    await page.screenshot({ path: PICTURE });
  } finally {
    await close();
  }
}

/** VS Code itself colours no Kotlin. People who write it have an extension that does; here a public grammar stands in for it. */
async function kotlinColours(folder) {
  const grammar = 'kotlin.tmLanguage.json';
  const manifest = {
    name: 'kotlin-colours', publisher: 'none', version: '0.0.0', engines: { vscode: '*' }, files: [grammar],
    contributes: {
      languages: [{ id: 'kotlin', extensions: ['.kt', '.kts'] }],
      grammars: [{ language: 'kotlin', scopeName: 'source.kotlin', path: `./${grammar}` }],
    },
  };
  const cwd = join(folder, 'kotlin-colours');
  mkdirSync(cwd);
  writeFileSync(join(cwd, 'package.json'), JSON.stringify(manifest));
  writeFileSync(join(cwd, grammar), readFileSync(join(HOST, 'node_modules/tm-grammars/grammars/kotlin.json')));
  const packagePath = join(folder, 'kotlin-colours.vsix');
  await createVSIX({ cwd, packagePath, dependencies: false, allowMissingRepository: true, skipLicense: true });
  return packagePath;
}
