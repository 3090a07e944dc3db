/** What the server hands on: documents, folders, settings, changes on disk, and the requests of this project's own. */
import { afterEach, expect, it } from 'vitest';
import { uriOf } from '../../server/lsp/places.js';
import { METHODS } from '../../server/lsp/protocol.js';
import type { Status, Totals } from '../../server/lsp/protocol.js';
import { startSession } from './session.js';
import type { Session } from './session.js';
import { findingAt, SmallWorkbench } from './small-workbench.js';

const LINK = '/app/HiveLink.kt';
let session: Session;
afterEach(() => session.end());

it('says what it can do', async () => {
  session = await startSession(new SmallWorkbench());
  expect(session.initialized.capabilities).toMatchObject({
    textDocumentSync: { openClose: true, change: 2, save: true }, hoverProvider: true, codeActionProvider: { codeActionKinds: ['quickfix'] },
  });
});

it('hands on every state of a document, and its end', async () => {
  const workbench = new SmallWorkbench();
  session = await startSession(workbench);
  session.open(LINK, 'kotlin', 'val a = 1');
  session.change(LINK, 2, { range: { start: { line: 0, character: 8 }, end: { line: 0, character: 9 } }, text: '2' });
  session.save(LINK);
  session.close(LINK);
  session.open(LINK, 'kotlin', 'val b = 3');
  // A request is answered after all that was said before it.
  await session.client.sendRequest(METHODS.status, {});
  expect(workbench.told.filter(([what]) => what !== 'configure' && what !== 'workspace')).toEqual([
    ['open', LINK, 1, 'val a = 1'], ['change', LINK, 2, 'val a = 2'], ['saved', LINK], ['close', LINK], ['open', LINK, 1, 'val b = 3'],
  ]);
});

it('leaves alone what is no file', async () => {
  const workbench = new SmallWorkbench();
  session = await startSession(workbench);
  await session.client.sendNotification('textDocument/didOpen', { textDocument: { uri: 'untitled:Untitled-1', languageId: 'kotlin', version: 1, text: '' } });
  expect(await session.client.sendRequest('textDocument/hover', { textDocument: { uri: 'untitled:Untitled-1' }, position: { line: 0, character: 0 } })).toBeNull();
  expect(workbench.told.filter(([what]) => what !== 'configure' && what !== 'workspace')).toEqual([]);
});

it('hands on folders and settings, first and on each change, and logs what it is told about them', async () => {
  const workbench = new SmallWorkbench({ problems: ['There is no rule named link-not-shut.'] });
  session = await startSession(workbench, { folders: ['/app', '/web'], settings: { rules: { 'link-not-shut': 'off' }, check: { onType: false } } });
  await session.statusChanged();
  expect(workbench.told).toEqual([['workspace', '/app', '/web'], ['configure', { rules: { 'link-not-shut': 'off' }, onType: false }]]);
  session.configure({});
  await session.statusChanged();
  expect(workbench.told.at(-1)).toEqual(['configure', { rules: undefined, onType: true }]);
  await session.client.sendNotification('workspace/didChangeWorkspaceFolders', { event: { added: [{ uri: uriOf('/firmware'), name: '' }], removed: [{ uri: uriOf('/web'), name: '' }] } });
  await session.client.sendRequest(METHODS.status, {});
  expect(workbench.told.at(-1)).toEqual(['workspace', '/app', '/firmware']);
  expect(session.log).toContain('There is no rule named link-not-shut.');
});

it('hands on what changed on disk', async () => {
  const workbench = new SmallWorkbench();
  session = await startSession(workbench);
  await session.client.sendNotification('workspace/didChangeWatchedFiles', { changes: [{ uri: uriOf('/app/hive-scale.device.yaml'), type: 2 }] });
  await session.client.sendRequest(METHODS.status, {});
  expect(workbench.told.at(-1)).toEqual(['disk', '/app/hive-scale.device.yaml']);
});

it('checks the whole workspace and counts', async () => {
  session = await startSession(new SmallWorkbench({ findings: (path, text) => [findingAt(path, text, 'gatt'), findingAt(path, text, 'gatt', { severity: 'hint' })] }));
  session.open(LINK, 'kotlin', 'gatt');
  await session.diagnostics(LINK);
  expect(await session.client.sendRequest<Totals>(METHODS.checkWorkspace)).toEqual({ files: 1, errors: 0, warnings: 1, hints: 1 });
});

it('says what is assumed where no profile is in force', async () => {
  session = await startSession(new SmallWorkbench());
  const status = await session.client.sendRequest<Status>(METHODS.status, { uri: uriOf(LINK) });
  expect(status.profile).toBeUndefined();
  expect(status.assumed).toEqual(['The app runs on Android 5.0 and later.']);
  expect(status.recognised.links).toEqual({ known: 1, unknown: 1 });
});
