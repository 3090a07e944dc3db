/** The device profile in the editor: what is wrong in it is marked at its place. */
import { strictEqual as equal, match } from 'node:assert';
import { diagnostics, open, PROFILE, test, type } from './harness.js';

test('a property that no characteristic has is marked at its word', async () => {
  const { editor } = await open(PROFILE);
  await type(editor, 'indicate', 'indicat');
  const [problem] = await diagnostics(PROFILE, (found) => found.length > 0);
  equal(editor.document.getText(problem!.range), 'indicat');
  match(problem!.message, /indicat/);
  await type(editor, 'indicat', 'indicate');
  await diagnostics(PROFILE, (found) => found.length === 0);
});

test('a queue function that no source has is marked', async () => {
  const { editor } = await open(PROFILE);
  await type(editor, 'services:', 'queue:\n  - HiveQueue.enqueue\n\nservices:');
  const [problem] = await diagnostics(PROFILE, (found) => found.length > 0);
  equal(editor.document.getText(problem!.range), 'HiveQueue.enqueue');
});
