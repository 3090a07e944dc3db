/** What hovering shows, through VS Code's own provider call. Assigned names: Bluetooth SIG, Assigned Numbers 3.4 and 3.8. */
import { strictEqual as equal, match } from 'node:assert';
import { commands } from 'vscode';
import type { Hover, MarkdownString } from 'vscode';
import { diagnostics, KOTLIN, open, positionOf, PROFILE, test, TYPESCRIPT } from './harness.js';

/** The text of our hover at the first place of `text`; empty when there is none. */
async function hovered(file: string, text: string): Promise<string> {
  const { document } = await open(file);
  // The server answers from its first look at the workspace on.
  await diagnostics(KOTLIN, (found) => found.length > 0);
  const hovers = await commands.executeCommand<Hover[]>('vscode.executeHoverProvider', document.uri, positionOf(document, text));
  const texts = hovers.flatMap(({ contents }) => contents.map((content) => (content as MarkdownString).value));
  return texts.filter((it) => /UUID|assigned|device profile|\b[0-9a-f]{8}-/.test(it)).join('\n');
}

test('a UUID in Kotlin is what the profile says it is', async () => {
  match(await hovered(KOTLIN, '8f2d6c1f-4b5a'), /\*\*Weight\*\*, characteristic of Hive · read, indicate · 4 bytes/);
});

test('so is the name of a constant that holds one, where it is declared and where it is used', async () => {
  match(await hovered(KOTLIN, 'WEIGHT'), /\*\*Weight\*\*/);
  match(await hovered(KOTLIN, 'WEIGHT)'), /\*\*Weight\*\*/);
});

test('a 16-bit number and a standard name in TypeScript have their assigned names', async () => {
  match(await hovered(TYPESCRIPT, '0x180f);'), /\*\*Battery\*\*, service/);
  match(await hovered(TYPESCRIPT, 'battery_level'), /\*\*Battery Level\*\*, characteristic/);
});

test('the same number is nothing where no UUID is expected', async () => {
  equal(await hovered(TYPESCRIPT, '0x180f;'), '');
});

test('a UUID of the profile has its assigned name', async () => {
  match(await hovered(PROFILE, '2A19'), /\*\*Battery Level\*\*, characteristic/);
});
