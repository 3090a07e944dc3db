/** The commands that need no answer from a user; those that do are driven by hand in `as-user.mjs`. */
import { deepStrictEqual as same, strictEqual as equal } from 'node:assert';
import { commands } from 'vscode';
import { diagnostics, KOTLIN, open, test, type } from './harness.js';

test('the palette has the commands', async () => {
  await open(KOTLIN);
  const all = await commands.getCommands(true);
  for (const name of ['checkWorkspace', 'createProfile', 'restart']) equal(all.includes(`linkwright.${name}`), true, name);
});

test('the whole workspace is checked when asked, files that nobody opened included', async () => {
  await open(KOTLIN);
  await diagnostics(KOTLIN, (found) => found.length === 1);
  const { files, errors, warnings } = await commands.executeCommand<{ files: number; errors: number; warnings: number }>('linkwright.checkWorkspace');
  same({ files, found: errors + warnings }, { files: 3, found: 1 });
});

test('after a restart the server goes on with the open documents', async () => {
  const { editor } = await open(KOTLIN);
  await diagnostics(KOTLIN, (found) => found.length === 1);
  await type(editor, 'gatt.readCharacteristic(weight)\n', 'if (!gatt.readCharacteristic(weight)) close()\n');
  await diagnostics(KOTLIN, (found) => found.length === 0);
  await commands.executeCommand('linkwright.restart');
  await type(editor, 'if (!gatt.readCharacteristic(weight)) close()\n', 'gatt.readCharacteristic(weight)\n');
  await diagnostics(KOTLIN, (found) => found.length === 1);
});
