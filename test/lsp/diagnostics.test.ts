/** Findings reach an editor as diagnostics: form, version, related places. The client is the protocol's own implementation. */
import { DiagnosticSeverity } from 'vscode-languageserver-protocol';
import { afterEach, expect, it } from 'vitest';
import { uriOf } from '../../server/lsp/places.js';
import { startSession } from './session.js';
import type { Session } from './session.js';
import { findingAt, SmallWorkbench } from './small-workbench.js';

const LINK = '/app/HiveLink.kt';
let session: Session;
afterEach(() => session.end());

it('shows a finding at its place, with rule, source and the version that was checked', async () => {
  session = await startSession(new SmallWorkbench({ findings: (path, text) => [findingAt(path, text, 'connectGatt')] }));
  session.open(LINK, 'kotlin', 'class HiveLink {\n  val gatt = device.connectGatt()\n}\n');
  const { version, diagnostics } = await session.diagnostics(LINK);
  expect(version).toBe(1);
  expect(diagnostics).toEqual([{
    range: { start: { line: 1, character: 20 }, end: { line: 1, character: 31 } },
    severity: DiagnosticSeverity.Warning, source: 'linkwright', code: 'link-not-closed', message: 'The link is never closed',
  }]);
});

it('counts columns in UTF-16 code units, as the protocol does by default', async () => {
  session = await startSession(new SmallWorkbench({ findings: (path, text) => [findingAt(path, text, 'connectGatt')] }));
  session.open(LINK, 'kotlin', 'val bee = "🐝"; connectGatt()');
  const { diagnostics } = await session.diagnostics(LINK);
  expect(diagnostics[0]!.range).toEqual({ start: { line: 0, character: 16 }, end: { line: 0, character: 27 } });
});

it('shows a hint as information, which has a row in the problem list', async () => {
  const severities = ['error', 'warning', 'hint'] as const;
  session = await startSession(new SmallWorkbench({ findings: (path, text) => severities.map((severity) => findingAt(path, text, 'gatt', { severity })) }));
  session.open(LINK, 'kotlin', 'gatt');
  const { diagnostics } = await session.diagnostics(LINK);
  expect(diagnostics.map(({ severity }) => severity)).toEqual([DiagnosticSeverity.Error, DiagnosticSeverity.Warning, DiagnosticSeverity.Information]);
});

it('leads to related places in this file and in others, and leaves out those in a file that is gone', async () => {
  const places = (path: string) => [
    { path, at: { start: 0, end: 4 }, message: 'opened here' },
    { path: '/app/HiveScreen.kt', at: { start: 8, end: 12 }, message: 'held here' },
    { path: '/app/Gone.kt', at: { start: 0, end: 1 }, message: 'nowhere' },
  ];
  const disk = { '/app/HiveScreen.kt': 'import a\nlink' };
  session = await startSession(new SmallWorkbench({ disk, findings: (path, text) => [findingAt(path, text, 'gatt', { related: places(path) })] }));
  session.open(LINK, 'kotlin', 'gatt');
  const { diagnostics } = await session.diagnostics(LINK);
  expect(diagnostics[0]!.relatedInformation).toEqual([
    { message: 'opened here', location: { uri: uriOf(LINK), range: { start: { line: 0, character: 0 }, end: { line: 0, character: 4 } } } },
    { message: 'held here', location: { uri: uriOf('/app/HiveScreen.kt'), range: { start: { line: 0, character: 8 }, end: { line: 1, character: 3 } } } },
  ]);
});

it('follows the edits, and says for which version', async () => {
  session = await startSession(new SmallWorkbench({ findings: (path, text) => (text.includes('connectGatt') ? [findingAt(path, text, 'connectGatt')] : []) }));
  session.open(LINK, 'kotlin', 'device\n');
  expect(await session.diagnostics(LINK)).toMatchObject({ version: 1, diagnostics: [] });
  session.change(LINK, 2, { range: { start: { line: 0, character: 6 }, end: { line: 0, character: 6 } }, text: '.connectGatt()' });
  expect(await session.diagnostics(LINK)).toMatchObject({ version: 2, diagnostics: [{ range: { start: { line: 0, character: 7 } } }] });
  session.close(LINK);
  expect(await session.diagnostics(LINK)).toMatchObject({ diagnostics: [] });
});
