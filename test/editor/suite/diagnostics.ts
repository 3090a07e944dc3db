/** What is marked in the editor, and when. */
import { strictEqual as equal } from 'node:assert';
import { DiagnosticSeverity, extensions } from 'vscode';
import { diagnostics, KOTLIN, open, setRules, test, type, TYPESCRIPT, writeToDisk } from './harness.js';

const RULE = 'start-result-unchecked';
const DROPPED = 'gatt.readCharacteristic(weight)\n';
const HANDLED = 'if (!gatt.readCharacteristic(weight)) close()\n';

test('the installed extension starts with the first Kotlin file', async () => {
  const { document } = await open(KOTLIN);
  equal(document.languageId, 'kotlin');
  await diagnostics(KOTLIN, (found) => found.length > 0);
  equal(extensions.getExtension('linkwright.linkwright')?.isActive, true);
});

test('a dropped answer is marked at the name of the call, with rule and source', async () => {
  const { document } = await open(KOTLIN);
  const [finding, ...others] = await diagnostics(KOTLIN, (found) => found.length > 0);
  equal(others.length, 0);
  equal(document.getText(finding!.range), 'readCharacteristic');
  equal(finding!.source, 'linkwright');
  equal(finding!.code, RULE);
  equal(finding!.severity === DiagnosticSeverity.Error || finding!.severity === DiagnosticSeverity.Warning, true);
});

test('the mark goes with the fault, and comes back with it, while the file is typed', async () => {
  const { editor } = await open(KOTLIN);
  await diagnostics(KOTLIN, (found) => found.length === 1);
  await type(editor, DROPPED, HANDLED);
  await diagnostics(KOTLIN, (found) => found.length === 0);
  await type(editor, HANDLED, DROPPED);
  await diagnostics(KOTLIN, (found) => found.length === 1);
});

test('a fault typed into TypeScript is marked too', async () => {
  const { editor } = await open(TYPESCRIPT);
  await type(editor, 'const value = await level.readValue();', 'level.startNotifications();\n    const value = await level.readValue();');
  const found = await diagnostics(TYPESCRIPT, (all) => all.some(({ code }) => code === RULE));
  equal(editor.document.getText(found.find(({ code }) => code === RULE)!.range), 'startNotifications');
});

test('a file that changes on disk is checked again', async () => {
  await diagnostics(KOTLIN, (found) => found.length === 1);
  const { document } = await open(KOTLIN);
  await writeToDisk(KOTLIN, document.getText().replace(DROPPED, HANDLED));
  await diagnostics(KOTLIN, (found) => found.length === 0);
});

test('a rule that is switched off falls silent', async () => {
  await open(KOTLIN);
  await diagnostics(KOTLIN, (found) => found.length === 1);
  await setRules({ [RULE]: 'off' });
  await diagnostics(KOTLIN, (found) => found.length === 0);
  await setRules({ [RULE]: 'hint' });
  const [finding] = await diagnostics(KOTLIN, (found) => found.length === 1);
  equal(finding!.severity, DiagnosticSeverity.Information);
});
