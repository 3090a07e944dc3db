/** The light bulb, down to the file on disk. */
import { strictEqual as equal, match, ok } from 'node:assert';
import { commands, workspace } from 'vscode';
import type { CodeAction } from 'vscode';
import { diagnostics, KOTLIN, onDisk, open, test } from './harness.js';

const RULE = 'start-result-unchecked';

const ACCEPT = 'Accept this finding…';

/** The light bulb's entries on the only finding of the Kotlin file. */
async function bulb(): Promise<CodeAction[]> {
  const [finding] = await diagnostics(KOTLIN, (found) => found.length === 1);
  const { document } = await open(KOTLIN);
  return commands.executeCommand<CodeAction[]>('vscode.executeCodeActionProvider', document.uri, finding!.range, 'quickfix');
}

test('a fix is applied and saved, and the finding is gone', async () => {
  const { document } = await open(KOTLIN);
  const [fix] = (await bulb()).filter(({ title }) => title !== ACCEPT);
  ok(fix?.edit, 'no fix is offered');
  const before = document.getText();
  equal(await workspace.applyEdit(fix.edit), true);
  await diagnostics(KOTLIN, (found) => found.length === 0);
  equal(await document.save(), true);
  const after = await onDisk(KOTLIN);
  equal(after === before, false);
  // A failure has a way on: the link is let go, and not only written to a log.
  match(after, /if \(!gatt\.readCharacteristic\(weight\)\)/);
});

test('a finding is accepted by a comment, which needs a reason', async () => {
  const { document } = await open(KOTLIN);
  const accept = (await bulb()).find(({ title }) => title === ACCEPT)!;
  equal(await workspace.applyEdit(accept.edit!), true);
  match(document.getText(), new RegExp(`\\n {12}// linkwright accepts ${RULE}: \\n {12}gatt\\.readCharacteristic`));
  const unexplained = await diagnostics(KOTLIN, (found) => found.length === 2);
  equal(unexplained.some(({ code }) => code === 'acceptance-unexplained'), true);
});
