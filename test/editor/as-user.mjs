/**
 * Acts as a user in the workbench of a real VS Code: opens a file, reads the squiggle, the problem list, the hover and the
 * status bar, takes a fix from the light bulb, accepts a finding with a reason, creates a device profile. What counts in the
 * end is the file on disk.
 */
import { match, ok } from 'node:assert';
import { existsSync, readFileSync, watch } from 'node:fs';
import { dirname, join } from 'node:path';
import { PROJECT } from './host.mjs';
import { openBrowser, startServer } from './vscode.mjs';
import { Workbench } from './workbench.mjs';
import { withCopy } from './workspaces.mjs';

/** What the window showed when a step failed. */
const FAILED = join(PROJECT, 'node_modules/.cache/linkwright/failed.png');
const ACCEPT = 'Accept this finding…';
const FAULT = 'The boolean with which readCharacteristic says that it was accepted is dropped';

/**
 * What is done, each walk in a window and on a copy of its own, each step on what the one before left.
 * @type {[name: string, step: (bench: Workbench, folder: string) => Promise<void>][][]}
 */
const WALKS = [
  [
    ['a user opens a file and sees the fault underlined', see],
    ['the problem list has a row with message, origin and rule, which leads to the fault', async (bench) => {
      await bench.press('Control+Shift+M');
      const row = await bench.text('.markers-panel .monaco-list-row', FAULT);
      match(row, /\nlinkwright\nstart-result-unchecked\n/);
      await bench.click('.markers-panel .monaco-list-row', FAULT);
      await bench.waitFor('.monaco-editor .squiggly-warning');
    }],
    ['the status bar says which device profile is in force', async (bench) => {
      match(await bench.text('[id="linkwright.linkwright.linkwright.status"]', 'Hive scale'), /Hive scale/);
    }],
    ['hovering a constant tells which characteristic it is', async (bench) => {
      match(await bench.hover('WEIGHT)'), /Weight, characteristic of Hive · read, indicate · 4 bytes/);
    }],
    ['the light bulb has the fix, applied it removes the underline, saved it is on disk', async (bench, folder) => {
      const entries = await bench.lightBulb('readCharacteristic(weight)');
      const fix = entries.find((entry) => entry !== ACCEPT);
      ok(fix, `only ${entries.join(', ')} is offered`);
      await bench.choose(fix);
      await bench.gone('.monaco-editor .squiggly-warning');
      await saved(bench, join(folder, 'android/HiveLink.kt'), /if \(!gatt\.readCharacteristic\(weight\)\)/);
    }],
  ],
  [
    ['a user opens the file again, as it was', see],
    ['a finding is accepted with a reason, typed where the cursor was put', async (bench, folder) => {
      await bench.lightBulb('readCharacteristic(weight)', { byKey: true });
      await bench.choose(ACCEPT);
      await bench.type('the hive is asked again every minute');
      await bench.gone('.monaco-editor .squiggly-warning');
      const accepted = /\/\/ linkwright accepts start-result-unchecked: the hive is asked again every minute\n +gatt\.readCharacteristic/;
      await saved(bench, join(folder, 'android/HiveLink.kt'), accepted);
    }],
    ['a device profile is created by a command and read at once', async (bench, folder) => {
      await bench.command('Linkwright: Create device profile');
      await bench.answer('Hive door');
      await bench.waitFor('.tab:has-text("hive-door.device.yaml")');
      ok(existsSync(join(folder, 'hive-door.device.yaml')));
      await bench.press('Control+Shift+M');
      match(await bench.text('.markers-panel .monaco-list-row', 'This folder has 2 device profiles'), /hive-door\.device\.yaml/);
    }],
  ],
];

async function see(bench) {
  await bench.open('HiveLink.kt', 'class HiveLink');
  await bench.waitFor('.monaco-editor .squiggly-warning');
}

/** @param {string} vsix @returns {Promise<{ name: string, milliseconds: number, error?: string }[]>} */
export async function asUser(vsix) {
  const server = await startServer({ vsix: [vsix] });
  try {
    const outcomes = [];
    for (const steps of WALKS) outcomes.push(...(await withCopy('one-link', (folder) => walk(steps, server.url, folder))));
    return outcomes;
  } finally {
    await server.stop();
  }
}

/** After a step that failed the window is in no known state, so the steps behind it count as failed too. */
async function walk(steps, url, folder) {
  const { page, close } = await openBrowser(`${url}/?folder=${encodeURIComponent(folder)}`);
  const outcomes = [];
  try {
    const bench = new Workbench(page);
    await bench.ready();
    for (const [name, step] of steps) {
      const begun = Date.now();
      const before = outcomes.at(-1)?.error;
      const error = before === undefined ? await within(step(bench, folder)).then(() => undefined, (thrown) => thrown.stack ?? String(thrown)) : 'not reached';
      outcomes.push({ name, milliseconds: Date.now() - begun, ...(error !== undefined && { error }) });
      if (error !== undefined && before === undefined) await page.screenshot({ path: FAILED });
    }
  } finally {
    await close();
  }
  return outcomes;
}

/** Longer than any step takes on a slow machine. */
const LIMIT_MS = 40_000;

async function within(step) {
  let timer;
  const late = new Promise((_resolve, reject) => (timer = setTimeout(() => reject(new Error(`not done after ${LIMIT_MS / 1000} s`)), LIMIT_MS)));
  await Promise.race([step, late]).finally(() => clearTimeout(timer));
}

/** Saves, and waits until the text on disk fits: a save empties the file before it fills it. */
async function saved(bench, file, fits) {
  const onDisk = new Promise((resolve) => {
    const watcher = watch(dirname(file), () => {
      if (!existsSync(file) || !fits.test(readFileSync(file, 'utf8'))) return;
      watcher.close();
      resolve();
    });
  });
  await bench.press('Control+S');
  await onDisk;
}
