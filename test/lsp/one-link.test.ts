/**
 * The server as its root joins it, with nothing made up: the smallest workspace, read from disk, through the protocol. Which
 * finding is right is the rules' tests' affair; here it is that it arrives.
 */
import { readFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import type { MarkupContent } from 'vscode-languageserver-protocol';
import { afterEach, beforeEach, expect, it } from 'vitest';
import { rules } from '../../rules/index.js';
import { ProjectWorkbench } from '../../server/lsp/project-workbench.js';
import { checkerOf, editSources, linking } from '../../server/project/checker.js';
import { nodeFiles } from '../../server/project/files-node.js';
import { Surroundings } from '../../server/project/surroundings.js';
import { startSession } from './session.js';
import type { Session } from './session.js';

const FOLDER = fileURLToPath(new URL('../workspaces/one-link', import.meta.url));
const KOTLIN = `${FOLDER}/android/HiveLink.kt`;
const PROFILE = `${FOLDER}/hive-scale.device.yaml`;
const DROPPED = 'gatt.readCharacteristic(weight)\n';

let session: Session;
beforeEach(async () => {
  const surroundings = new Surroundings();
  const nextTurn = () => new Promise<void>((resume) => setImmediate(resume));
  const host = { linking, checker: checkerOf(rules, surroundings), pause: nextTurn };
  session = await startSession(new ProjectWorkbench({ host, files: nodeFiles, settle: nextTurn, surroundings, editSources }), { folders: [FOLDER] });
});
afterEach(() => session.end());

it('finds the fault on disk, in the document, and no longer when it is mended', async () => {
  const onDisk = await session.diagnostics(KOTLIN);
  expect(onDisk).toMatchObject({ diagnostics: [{ code: 'start-result-unchecked', source: 'linkwright' }] });
  expect(onDisk.version).toBeUndefined();

  const text = readFileSync(KOTLIN, 'utf8');
  session.open(KOTLIN, 'kotlin', text);
  const opened = await session.diagnostics(KOTLIN, ({ version }) => version === 1);
  expect(opened.diagnostics).toEqual(onDisk.diagnostics);

  session.change(KOTLIN, 2, { text: text.replace(DROPPED, 'if (!gatt.readCharacteristic(weight)) close()\n') });
  expect((await session.diagnostics(KOTLIN, ({ version }) => version === 2)).diagnostics).toEqual([]);
});

it('knows a UUID from the profile', async () => {
  session.open(KOTLIN, 'kotlin', readFileSync(KOTLIN, 'utf8'));
  await session.diagnostics(KOTLIN, ({ version }) => version === 1);
  const line = readFileSync(KOTLIN, 'utf8').split('\n').findIndex((it) => it.startsWith('val WEIGHT'));
  const hover = await session.hover(KOTLIN, line, 6);
  expect((hover!.contents as MarkupContent).value).toContain('**Weight**, characteristic of Hive · read, indicate · 4 bytes');
});

it('says what is wrong in a profile while it is typed, and keeps its last good reading in force', async () => {
  const text = readFileSync(PROFILE, 'utf8');
  session.open(PROFILE, 'yaml', text);
  await session.diagnostics(PROFILE, ({ version }) => version === 1);
  session.change(PROFILE, 2, { text: text.replace('indicate', 'indicat') });
  const { diagnostics } = await session.diagnostics(PROFILE, ({ version }) => version === 2);
  const line = text.split('\n').findIndex((it) => it.includes('indicate'));
  const character = text.split('\n')[line]!.indexOf('indicate');
  expect(diagnostics).toMatchObject([{ code: 'device-profile', severity: 1, range: { start: { line, character }, end: { line, character: character + 7 } } }]);

  session.open(KOTLIN, 'kotlin', readFileSync(KOTLIN, 'utf8'));
  await session.diagnostics(KOTLIN, ({ version }) => version === 1);
  const hover = await session.hover(KOTLIN, readFileSync(KOTLIN, 'utf8').split('\n').findIndex((it) => it.startsWith('val WEIGHT')), 6);
  const value = (hover!.contents as MarkupContent).value;
  expect(value).toContain('read, indicate');
  // Its places are those of an earlier text, so no line is named.
  expect(value).not.toContain('#L');
});
