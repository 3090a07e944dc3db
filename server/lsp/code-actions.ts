/**
 * The light bulb on a finding: its fixes, the way to the place that decides it, and accepting it with a reason. The edits
 * come from the workbench; this module offers them.
 */
import { CodeActionKind } from 'vscode-languageserver/node';
import type { CodeAction, Diagnostic, OptionalVersionedTextDocumentIdentifier, Range, SnippetTextEdit, TextEdit, WorkspaceEdit } from 'vscode-languageserver/node';
import type { FileEdits } from '../engine/edits.js';
import type { Finding, Fix } from '../engine/rule.js';
import type { Publication } from '../project/publish.js';
import { diagnosticsOf } from './diagnostics.js';
import { Lines, uriOf } from './places.js';
import { COMMANDS } from './protocol.js';
import type { FixRequest, OpenPlace } from './protocol.js';
import type { Workbench } from './workbench.js';

/** What the editor can do, and how it knows the open files. */
export interface Editor {
  /** URI and version of an open document; `undefined` for a file that no editor holds. */
  opened(path: string): { readonly uri: string; readonly version: number } | undefined;
  /** An edit may leave the cursor at a place of its own. */
  readonly snippets: boolean;
}

/** Entries for the findings that a range touches, in the order of the findings: fixes, then the lead, then accepting. */
export function codeActions(path: string, range: Range, workbench: Workbench, editor: Editor): CodeAction[] {
  const publication = workbench.published(path);
  // Findings of an older text stand at wrong places. The editor asks again when the new ones arrive.
  if (!publication || publication.version !== editor.opened(path)?.version) return [];

  const lines = new Lines(publication.text);
  const asked = lines.span(range);
  const diagnostics = diagnosticsOf(publication, workbench);
  return publication.findings.flatMap((finding, index) => {
    if (finding.at.end < asked.start || finding.at.start > asked.end) return [];
    const about = { kind: CodeActionKind.QuickFix, diagnostics: [diagnostics[index]!] };
    return [
      ...finding.fixes.flatMap((fix) => fixAction(finding, fix, about, workbench, editor)),
      ...leadAction(finding, about, publication, workbench),
      ...acceptAction(finding, about, lines, workbench, editor),
    ];
  });
}

type About = { readonly kind: CodeActionKind; readonly diagnostics: Diagnostic[] };

function fixAction(finding: Finding, fix: Fix, about: About, workbench: Workbench, editor: Editor): CodeAction[] {
  if (fix.asks && fix.asks.length > 0) {
    const request: FixRequest = {
      uri: documentOf(finding.path, editor).uri,
      rule: finding.rule, start: finding.at.start, title: fix.title, asks: fix.asks, answers: {},
    };
    return [{ title: `${fix.title}…`, ...about, command: { title: fix.title, command: COMMANDS.applyFix, arguments: [request] } }];
  }
  const edits = workbench.editsOf(finding.path, fix, {});
  if (!edits) return [];
  // Only a fix that changes nothing else may be applied without looking, as "preferred" ones are.
  return [{ title: fix.title, ...about, edit: workspaceEdit(edits, workbench, editor), ...(fix.trust === 'safe' && { isPreferred: true }) }];
}

function leadAction(finding: Finding, about: About, publication: Publication, workbench: Workbench): CodeAction[] {
  const { lead } = finding;
  const text = lead && (lead.path === publication.path ? publication.text : workbench.textOf(lead.path));
  if (!lead || text === undefined) return [];
  const place: OpenPlace = { uri: uriOf(lead.path), ...new Lines(text).range(lead.at).start };
  return [{ title: lead.title, ...about, command: { title: lead.title, command: COMMANDS.openPlace, arguments: [place] } }];
}

/** Writes the comment above the finding's line and leaves the reason to the user: an empty one is reported until it is given. */
function acceptAction(finding: Finding, about: About, lines: Lines, workbench: Workbench, editor: Editor): CodeAction[] {
  if (!workbench.acceptable(finding)) return [];
  const start = lines.lineStart(finding.at.start);
  const at = lines.range({ start, end: start });
  const comment = `${lines.indentation(start)}// linkwright accepts ${finding.rule}: `;
  const edit: TextEdit | SnippetTextEdit = editor.snippets
    ? { range: at, snippet: { kind: 'snippet', value: `${comment}$0\n` } }
    : { range: at, newText: `${comment}\n` };
  const change = { textDocument: documentOf(finding.path, editor), edits: [edit] };
  return [{ title: 'Accept this finding…', ...about, edit: { documentChanges: [change] } }];
}

/** The text of a fix whose questions the user has answered; `null` when the finding is no longer there. */
export function answeredFix(path: string, request: FixRequest, workbench: Workbench, editor: Editor): WorkspaceEdit | null {
  const publication = workbench.published(path);
  if (!publication || publication.version !== editor.opened(path)?.version) return null;
  const finding = publication.findings.find((it) => it.rule === request.rule && it.at.start === request.start);
  const fix = finding?.fixes.find((it) => it.title === request.title);
  const edits = fix && workbench.editsOf(path, fix, request.answers);
  return edits ? workspaceEdit(edits, workbench, editor) : null;
}

/** Bound to the versions it was computed for, so that the editor refuses it once a document has moved on. */
function workspaceEdit(files: readonly FileEdits[], workbench: Workbench, editor: Editor): WorkspaceEdit {
  return {
    documentChanges: files.map(({ path, edits }) => {
      const lines = new Lines(workbench.textOf(path) ?? '');
      return {
        textDocument: documentOf(path, editor),
        edits: edits.map((edit) => ({ range: lines.range(edit.at), newText: edit.text })),
      };
    }),
  };
}

/** Without a version for a file that no editor holds. */
function documentOf(path: string, editor: Editor): OptionalVersionedTextDocumentIdentifier {
  const opened = editor.opened(path);
  return { uri: opened?.uri ?? uriOf(path), version: opened?.version ?? null };
}
