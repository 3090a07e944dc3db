/**
 * The workbench over the real project, through the whole protocol: what is read, checked and published when files, documents
 * and settings change. The analysis is one made-up rule, so that a test says what is a finding; the disk is a table.
 */
import { afterEach, expect, it } from 'vitest';
import { nothingCovered } from '../../server/engine/coverage.js';
import type { EditSources } from '../../server/engine/edits.js';
import type { Rule } from '../../server/engine/rule.js';
import type { Facts } from '../../server/facts/facts.js';
import { uriOf } from '../../server/lsp/places.js';
import { ProjectWorkbench } from '../../server/lsp/project-workbench.js';
import type { Parts } from '../../server/lsp/project-workbench.js';
import { METHODS } from '../../server/lsp/protocol.js';
import type { Status, Totals } from '../../server/lsp/protocol.js';
import type { Declaration, File } from '../../server/ir/ir.js';
import type { FileSystem } from '../../server/project/files.js';
import { Surroundings } from '../../server/project/surroundings.js';
import type { Program, Resolver } from '../../server/resolve/api.js';
import { startSession } from './session.js';
import type { Session, SessionOptions } from './session.js';

const LINK = '/app/src/HiveLink.kt';
const HELPER = '/app/src/Closing.kt';
let session: Session;
afterEach(() => session.end());

/** Every `open` is a finding as long as no other file of the project declares `close`. */
const rule: Rule = {
  id: 'link-not-closed', title: 'A link is never closed', harm: 'It stays registered', severity: 'warning', sources: [],
  check(facts, report) {
    const { text, isClosed } = facts as unknown as { text: string; isClosed: boolean };
    if (isClosed) return;
    for (const { index } of text.matchAll(/open/g)) report({ at: { start: index, end: index + 4 }, message: 'The link is never closed' });
  },
};

/** The user's pauses: an edit is checked when the test says that one has come. */
let pauses: (() => void)[] = [];

/** @param disk path → text; tests change it and say so */
async function start(disk: Record<string, string>, options: SessionOptions = {}): Promise<ProjectWorkbench> {
  const files: FileSystem = {
    read: async (path) => disk[path],
    list: async (folder) => {
      const below = Object.keys(disk).filter((path) => path.startsWith(`${folder}/`)).map((path) => path.slice(folder.length + 1));
      if (below.length === 0) return undefined;
      const names = [...new Set(below.map((path) => path.split('/')[0]!))];
      return names.map((name) => ({ name, kind: below.includes(name) ? 'file' : 'folder', size: 0 }));
    },
    stat: async (path) => {
      if (disk[path] !== undefined) return { kind: 'file', size: disk[path].length };
      return Object.keys(disk).some((it) => it.startsWith(`${path}/`)) ? { kind: 'folder', size: 0 } : undefined;
    },
    real: async (path) => path,
  };
  const parts: Parts = {
    files, settle: () => new Promise((resolve) => pauses.push(resolve)),
    editSources: () => ({}) as EditSources,
    host: {
      pause: () => new Promise((resolve) => setImmediate(resolve)),
      linking: { lower, link: () => ({}) as Program, resolver: () => ({}) as Resolver },
      checker: {
        rules: [rule], surroundings: () => '', profileFindings: () => [],
        withFacts: (path, snapshot, ask) => {
          const others = snapshot.paths('source').filter((it) => it !== path);
          const isClosed = others.some((it) => snapshot.textOf(it)?.includes('fun close'));
          const answer = ask({ text: snapshot.textOf(path), isClosed } as unknown as Facts);
          return { answer, consulted: new Set(others), coverage: nothingCovered, effects: snapshot.textOf(path) ?? '' };
        },
      },
    },
    surroundings: new Surroundings(),
  };
  pauses = [];
  const workbench = new ProjectWorkbench(parts);
  session = await startSession(workbench, { folders: ['/app'], ...options });
  return workbench;
}

/** The user stops typing, once the server has heard of all edits so far. */
async function pause(): Promise<void> {
  await session.client.sendRequest(METHODS.status, {});
  for (const resolve of pauses.splice(0)) resolve();
}

it('publishes what is found in files that no editor holds, without a version', async () => {
  await start({ [LINK]: 'val a = open()' });
  const { version, diagnostics } = await session.diagnostics(LINK);
  expect(version).toBeUndefined();
  expect(diagnostics).toMatchObject([{ code: 'link-not-closed', range: { start: { line: 0, character: 8 } } }]);
});

it('checks a document as it is typed, and says for which version', async () => {
  await start({ [LINK]: 'val a = 1' });
  session.open(LINK, 'kotlin', 'val a = 1');
  session.change(LINK, 2, { text: 'val a = open()' });
  await pause();
  expect(await session.diagnostics(LINK, ({ version }) => version === 2)).toMatchObject({ diagnostics: [{ code: 'link-not-closed' }] });
  session.change(LINK, 3, { text: 'val a = 1' });
  await pause();
  expect(await session.diagnostics(LINK, ({ version }) => version === 3)).toMatchObject({ diagnostics: [] });
});

it('of many edits in a row publishes none but the last', async () => {
  await start({ [LINK]: '' });
  session.open(LINK, 'kotlin', '');
  await session.diagnostics(LINK, ({ version }) => version === 1);
  for (let version = 2; version <= 20; version++) session.change(LINK, version, { text: 'open '.repeat(version) });
  await pause();
  const last = await session.diagnostics(LINK, ({ version }) => version === 20);
  expect(last.diagnostics).toHaveLength(20);
  expect(session.published.filter(({ version }) => version !== undefined && version > 1 && version < 20)).toEqual([]);
});

it('answers the light bulb for the text as it is, also while the user types', async () => {
  await start({ [LINK]: '' });
  session.open(LINK, 'kotlin', '');
  await session.diagnostics(LINK, ({ version }) => version === 1);
  session.change(LINK, 2, { text: '\nopen' });
  const place = { line: 1, character: 2 };
  const actions = await session.actions(LINK, { start: place, end: place });
  expect(actions.map(({ title }) => title)).toEqual(['Accept this finding…']);
});

it('reports nothing before the neighbours are read: the helper may be among them', async () => {
  const workbench = await start({ [LINK]: 'open', [HELPER]: 'fun close' });
  session.open(LINK, 'kotlin', 'open()');
  await session.diagnostics(LINK, ({ version }) => version === 1);
  expect(session.published.flatMap(({ diagnostics }) => diagnostics)).toEqual([]);
  expect(workbench.published(LINK)).toMatchObject({ version: 1, findings: [] });
});

it('hears of a helper that appears and vanishes on disk', async () => {
  const disk: Record<string, string> = { [LINK]: 'open() close()' };
  await start(disk);
  expect((await session.diagnostics(LINK)).diagnostics).toHaveLength(1);
  disk[HELPER] = 'fun close';
  await session.client.sendNotification('workspace/didChangeWatchedFiles', { changes: [{ uri: uriOf(HELPER), type: 1 }] });
  expect((await session.diagnostics(LINK)).diagnostics).toEqual([]);
  delete disk[HELPER];
  await session.client.sendNotification('workspace/didChangeWatchedFiles', { changes: [{ uri: uriOf(HELPER), type: 3 }] });
  expect((await session.diagnostics(LINK)).diagnostics).toHaveLength(1);
});

it('goes back to the text on disk when the editor lets go', async () => {
  await start({ [LINK]: 'val a = 1' });
  session.open(LINK, 'kotlin', 'open');
  expect((await session.diagnostics(LINK, ({ version }) => version === 1)).diagnostics).toHaveLength(1);
  session.close(LINK);
  expect(await session.diagnostics(LINK, ({ version }) => version === undefined)).toMatchObject({ diagnostics: [] });
});

it('clears what it said of a document that was never on disk', async () => {
  await start({ [LINK]: '' });
  session.open('/elsewhere/Scratch.kt', 'kotlin', 'open');
  expect((await session.diagnostics('/elsewhere/Scratch.kt')).diagnostics).toHaveLength(1);
  session.close('/elsewhere/Scratch.kt');
  expect((await session.diagnostics('/elsewhere/Scratch.kt')).diagnostics).toEqual([]);
});

it('leaves dependencies alone, open or not', async () => {
  const library = '/app/node_modules/lib/index.ts';
  await start({ [LINK]: 'open', [library]: 'open' });
  session.open(library, 'typescript', 'open');
  await session.diagnostics(LINK);
  await session.client.sendRequest(METHODS.checkWorkspace);
  expect(session.published.map(({ uri }) => uri)).toEqual([uriOf(LINK)]);
});

it('says which profile is in force for a file, and what is assumed without one', async () => {
  const profile = '/app/hive-scale.device.yaml';
  const disk: Record<string, string> = { [LINK]: 'open' };
  await start(disk);
  await session.diagnostics(LINK);
  const bare = await session.client.sendRequest<Status>(METHODS.status, { uri: uriOf(LINK) });
  expect(bare.profile).toBeUndefined();
  expect(bare.assumed).toHaveLength(2);
  disk[profile] = 'device:\n  name: Hive scale\n';
  await session.client.sendNotification('workspace/didChangeWatchedFiles', { changes: [{ uri: uriOf(profile), type: 1 }] });
  let described = bare;
  while (!described.profile) {
    await session.statusChanged();
    described = await session.client.sendRequest<Status>(METHODS.status, { uri: uriOf(LINK) });
  }
  expect(described.profile).toEqual({ uri: uriOf(profile), device: 'Hive scale' });
  expect(described.assumed).toHaveLength(1);
});

it('moves a rule to another severity and switches it off', async () => {
  await start({ [LINK]: 'open' }, { settings: { rules: { 'link-not-closed': 'error' } } });
  expect((await session.diagnostics(LINK)).diagnostics).toMatchObject([{ severity: 1 }]);
  session.configure({ rules: { 'link-not-closed': 'off' } });
  expect((await session.diagnostics(LINK)).diagnostics).toEqual([]);
});

it('names a rule that does not exist', async () => {
  await start({ [LINK]: '' }, { settings: { rules: { 'link-not-shut': 'off' } } });
  await session.statusChanged();
  expect(session.log).toEqual(['There is no rule named link-not-shut.']);
});

it('waits for the save when it is told not to check while typing', async () => {
  const workbench = await start({ [LINK]: '' }, { settings: { check: { onType: false } } });
  session.open(LINK, 'kotlin', '');
  await session.diagnostics(LINK, ({ version }) => version === 1);
  session.change(LINK, 2, { text: 'open' });
  await session.client.sendRequest(METHODS.status, {});
  expect(workbench.published(LINK)).toMatchObject({ version: 1 });
  session.save(LINK);
  expect((await session.diagnostics(LINK, ({ version }) => version === 2)).diagnostics).toHaveLength(1);
});

it('reads and checks the whole workspace afresh when asked', async () => {
  const disk: Record<string, string> = { [LINK]: 'open' };
  await start(disk);
  await session.diagnostics(LINK);
  disk['/app/src/Second.kt'] = 'open open';
  expect(await session.client.sendRequest<Totals>(METHODS.checkWorkspace)).toEqual({ files: 2, errors: 0, warnings: 3, hints: 0 });
  delete disk[LINK];
  expect(await session.client.sendRequest<Totals>(METHODS.checkWorkspace)).toEqual({ files: 1, errors: 0, warnings: 2, hints: 0 });
});

it('reads the folders that come, and forgets those that go', async () => {
  await start({ [LINK]: 'open', '/web/src/link.ts': 'open' });
  await session.diagnostics(LINK);
  const event = { added: [{ uri: uriOf('/web'), name: 'web' }], removed: [{ uri: uriOf('/app'), name: 'app' }] };
  await session.client.sendNotification('workspace/didChangeWorkspaceFolders', { event });
  expect((await session.diagnostics('/web/src/link.ts')).diagnostics).toHaveLength(1);
  expect(session.published.filter(({ uri }) => uri === uriOf(LINK)).at(-1)!.diagnostics).toEqual([]);
});

/** A file that declares `close` if its text says so, and nothing else: the made-up rule looks at the text. */
function lower(text: string, path: string): File {
  const span = { start: 0, end: text.length };
  const close: Declaration = { kind: 'Fn', span, name: 'close', typeParams: [], params: [], modifiers: new Set(), annotations: [] };
  return {
    kind: 'File', span, path, language: 'kotlin', module: '', imports: [], declarations: text.includes('fun close') ? [close] : [],
    body: { kind: 'Block', span, stmts: [] }, unreadable: [], comments: [],
  };
}
