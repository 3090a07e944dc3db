/** The light bulb, down to the file on disk. */
import { strictEqual as equal, match, ok } from 'node:assert';
import { commands, workspace } from 'vscode';
import type { CodeAction, Diagnostic } from 'vscode';
import { diagnostics, KOTLIN, onDisk, open, test, type, uriOf } from './harness.js';

const RULE = 'start-result-unchecked';
const ACCEPT = 'Accept this finding…';

/** The light bulb's entries on a finding of the Kotlin file; without one, on its only finding. */
async function bulb(finding?: Diagnostic): Promise<CodeAction[]> {
  const [only] = finding ? [finding] : await diagnostics(KOTLIN, (found) => found.length === 1);
  return commands.executeCommand<CodeAction[]>('vscode.executeCodeActionProvider', uriOf(KOTLIN), only!.range, 'quickfix');
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

test('an acceptance that accepts nothing is taken away by its fix, and the file is as it was', async () => {
  const { document, editor } = await open(KOTLIN);
  await diagnostics(KOTLIN, (found) => found.length === 1);
  const before = document.getText();
  await type(editor, '    fun close() {', '    // linkwright accepts link-not-closed: the process ends here\n    fun close() {');
  const found = await diagnostics(KOTLIN, (all) => all.some(({ code }) => code === 'acceptance-unused'));
  const [fix] = await bulb(found.find(({ code }) => code === 'acceptance-unused')!);
  equal(await workspace.applyEdit(fix!.edit!), true);
  equal(document.getText(), before);
});
