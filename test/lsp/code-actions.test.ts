/** The light bulb over the protocol: fixes, questions, leads, accepting, and silence about what is no longer there. */
import { TextDocument } from 'vscode-languageserver-textdocument';
import type { CodeAction, Range, TextDocumentEdit, WorkspaceEdit } from 'vscode-languageserver-protocol';
import { afterEach, expect, it } from 'vitest';
import type { Finding, Fix } from '../../server/engine/rule.js';
import { uriOf } from '../../server/lsp/places.js';
import { COMMANDS, METHODS } from '../../server/lsp/protocol.js';
import type { FixReply, FixRequest, OpenPlace } from '../../server/lsp/protocol.js';
import { CAPABILITIES, startSession } from './session.js';
import type { Session, SessionOptions } from './session.js';
import { findingAt, SmallWorkbench } from './small-workbench.js';
import type { Small } from './small-workbench.js';

const LINK = '/app/HiveLink.kt';
const PROFILE = '/app/hive-scale.device.yaml';
const TEXT = 'fun close() {\n    gatt.disconnect()\n}\n';
const AT: Range = { start: { line: 1, character: 12 }, end: { line: 1, character: 12 } };
const FIX: Fix = { title: 'Close the link', trust: 'review', edits: [] };

let session: Session;
afterEach(() => session.end());

/** A session in which `disconnect` is reported, its light bulb already asked. */
async function bulb(finding: Partial<Finding>, small: Small = {}, options: SessionOptions = {}): Promise<readonly CodeAction[]> {
  session = await startSession(new SmallWorkbench({ findings: (path, text) => [findingAt(path, text, 'disconnect', finding)], ...small }), options);
  session.open(LINK, 'kotlin', TEXT);
  await session.diagnostics(LINK);
  return session.actions(LINK, AT);
}

it('offers the fix with its text, for the version that was checked', async () => {
  const edits = () => [{ path: LINK, edits: [{ at: { start: TEXT.indexOf('disconnect'), end: TEXT.indexOf('()\n}') }, text: 'close' }] }];
  const [fix] = await bulb({ fixes: [FIX] }, { edits });
  expect(fix).toMatchObject({ title: 'Close the link', kind: 'quickfix', diagnostics: [{ code: 'link-not-closed' }] });
  expect(fix!.isPreferred).toBeUndefined();
  expect(applied(fix!.edit!, LINK)).toBe('fun close() {\n    gatt.close()\n}\n');
  expect((fix!.edit!.documentChanges![0] as TextDocumentEdit).textDocument).toEqual({ uri: uriOf(LINK), version: 1 });
});

it('prefers only a fix that keeps the behaviour otherwise unchanged', async () => {
  const fixes: Fix[] = [{ ...FIX, trust: 'safe' }, FIX];
  const actions = await bulb({ fixes }, { edits: () => [] });
  expect(actions.slice(0, 2).map(({ isPreferred }) => isPreferred)).toEqual([true, undefined]);
});

it('edits other files too', async () => {
  const edits = () => [{ path: PROFILE, edits: [{ at: { start: 8, end: 8 }, text: 'queue:\n' }] }];
  const [fix] = await bulb({ fixes: [FIX] }, { edits, disk: { [PROFILE]: 'device:\n' } });
  const start = { line: 1, character: 0 };
  expect(fix!.edit!.documentChanges).toEqual([
    { textDocument: { uri: uriOf(PROFILE), version: null }, edits: [{ range: { start, end: start }, newText: 'queue:\n' }] },
  ]);
});

it('does not offer a fix that cannot be written', async () => {
  const actions = await bulb({ fixes: [FIX] }, { edits: () => undefined });
  expect(actions.map(({ title }) => title)).toEqual(['Accept this finding…']);
});

it('asks for a name through the client, and puts the answer in', async () => {
  const asks = [{ placeholder: '<handler>', question: 'Which function takes a failure?', initial: 'onFailed' }];
  const edits: Small['edits'] = (_path, _fix, answers) => [{ path: LINK, edits: [{ at: { start: 0, end: 0 }, text: `// ${answers['<handler>']}\n` }] }];
  const [action] = await bulb({ fixes: [{ ...FIX, asks }] }, { edits });
  expect(action).toMatchObject({ title: 'Close the link…', command: { command: COMMANDS.applyFix } });
  const request = action!.command!.arguments![0] as FixRequest;
  expect(request.asks).toEqual(asks);

  const reply = await session.client.sendRequest<FixReply>(METHODS.fixEdits, { ...request, answers: { '<handler>': 'linkFailed' } });
  expect(applied(reply!, LINK)).toBe(`// linkFailed\n${TEXT}`);
  const elsewhere = await session.client.sendRequest<FixReply>(METHODS.fixEdits, { ...request, start: request.start + 1 });
  expect(elsewhere).toBeNull();
});

it('leads to the place that decides', async () => {
  const profile = 'device:\n  name: Hive scale\nlink:\n';
  const lead = { title: 'Open the device profile', path: PROFILE, at: { start: profile.indexOf('link'), end: profile.length } };
  const [action] = await bulb({ lead }, { disk: { [PROFILE]: profile } });
  expect(action!.command).toEqual({
    title: 'Open the device profile', command: COMMANDS.openPlace,
    arguments: [{ uri: uriOf(PROFILE), line: 2, character: 0 } satisfies OpenPlace],
  });
});

it('accepts a finding by a comment above its line, the cursor where the reason goes', async () => {
  const actions = await bulb({});
  const start = { line: 1, character: 0 };
  expect(actions.map(({ title }) => title)).toEqual(['Accept this finding…']);
  expect((actions[0]!.edit!.documentChanges![0] as TextDocumentEdit).edits).toEqual([
    { range: { start, end: start }, snippet: { kind: 'snippet', value: '    // linkwright accepts link-not-closed: $0\n' } },
  ]);
});

it('accepts in plain text for an editor that knows no snippets', async () => {
  const capabilities = { ...CAPABILITIES, workspace: { ...CAPABILITIES.workspace, workspaceEdit: { documentChanges: true } } };
  const actions = await bulb({}, {}, { capabilities });
  expect(applied(actions[0]!.edit!, LINK)).toBe('fun close() {\n    // linkwright accepts link-not-closed: \n    gatt.disconnect()\n}\n');
});

it('does not offer to accept what is said about an acceptance', async () => {
  expect(await bulb({ rule: 'acceptance-unused' })).toEqual([]);
});

it('is silent where no finding is', async () => {
  await bulb({ fixes: [FIX] }, { edits: () => [] });
  expect(await session.actions(LINK, { start: { line: 0, character: 0 }, end: { line: 0, character: 3 } })).toEqual([]);
});

it('is silent about findings of a text that the editor has left', async () => {
  const workbench = new SmallWorkbench({ slow: true, findings: (path, text) => [findingAt(path, text, 'disconnect')] });
  session = await startSession(workbench);
  session.open(LINK, 'kotlin', TEXT);
  await session.diagnostics(LINK);
  session.change(LINK, 2, { text: `\n${TEXT}` });
  expect(await session.actions(LINK, AT)).toEqual([]);
  workbench.check(LINK, 2, `\n${TEXT}`);
  const below: Range = { start: { line: 2, character: 12 }, end: { line: 2, character: 12 } };
  expect(await session.actions(LINK, below)).toHaveLength(1);
});

function applied(edit: WorkspaceEdit, path: string): string {
  const change = edit.documentChanges!.find((it): it is TextDocumentEdit => 'edits' in it && it.textDocument.uri === uriOf(path))!;
  const edits = change.edits.flatMap((it) => ('newText' in it ? [it] : []));
  return TextDocument.applyEdits(TextDocument.create('', '', 0, TEXT), edits);
}
