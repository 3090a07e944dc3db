/**
 * A test runner of twenty lines, for a place where no other one runs, and the few things that every test asks of VS Code.
 * Tests run one after the other in one window; each begins on the workspace as it was copied.
 */
import { readFile, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { commands, ConfigurationTarget, languages, Range, Uri, window, workspace } from 'vscode';
import type { Diagnostic, Position, TextDocument, TextEditor } from 'vscode';

export interface Outcome {
  readonly name: string;
  readonly milliseconds: number;
  /** Absent when it passed. */
  readonly error?: string;
}

const tests: { readonly name: string; readonly body: () => Promise<void> }[] = [];

export function test(name: string, body: () => Promise<void>): void {
  tests.push({ name, body });
}

/** Longer than any test takes on a slow machine; one that waits for what never comes ends here. */
const LIMIT_MS = 20_000;

export async function runTests(): Promise<Outcome[]> {
  const outcomes: Outcome[] = [];
  for (const { name, body } of tests) {
    const begun = Date.now();
    const error = await within(LIMIT_MS, body).then(() => undefined, (thrown: unknown) => (thrown instanceof Error ? thrown.stack ?? thrown.message : String(thrown)));
    outcomes.push({ name, milliseconds: Date.now() - begun, ...(error !== undefined && { error }) });
    await restore();
  }
  return outcomes;
}

async function within(milliseconds: number, body: () => Promise<void>): Promise<void> {
  let timer: NodeJS.Timeout | undefined;
  const late = new Promise<never>((_resolve, reject) => {
    timer = setTimeout(() => reject(new Error(`not done after ${milliseconds / 1000} s`)), milliseconds);
  });
  await Promise.race([body(), late]).finally(() => clearTimeout(timer));
}

// ---- The workspace ------------------------------------------------------

export const KOTLIN = 'android/HiveLink.kt';
export const TYPESCRIPT = 'web/battery.ts';
export const PROFILE = 'hive-scale.device.yaml';

const originals = new Map<string, string>();

export function uriOf(file: string): Uri {
  return Uri.joinPath(workspace.workspaceFolders![0]!.uri, file);
}

export async function onDisk(file: string): Promise<string> {
  return readFile(join(workspace.workspaceFolders![0]!.uri.fsPath, file), 'utf8');
}

/** Changes a file behind the editor's back. */
export async function writeToDisk(file: string, text: string): Promise<void> {
  await remember(file);
  await writeFile(join(workspace.workspaceFolders![0]!.uri.fsPath, file), text);
}

export async function open(file: string): Promise<{ document: TextDocument; editor: TextEditor }> {
  await remember(file);
  const document = await workspace.openTextDocument(uriOf(file));
  return { document, editor: await window.showTextDocument(document) };
}

/** Replaces the first place of `text`, as typing would. */
export async function type(editor: TextEditor, text: string, by: string): Promise<void> {
  const start = positionOf(editor.document, text, 0);
  const range = new Range(start, positionOf(editor.document, text, text.length));
  if (!(await editor.edit((edit) => edit.replace(range, by)))) throw new Error('the edit was refused');
}

/** The place `within` characters into the first place of `text`. */
export function positionOf(document: TextDocument, text: string, within = 1): Position {
  const start = document.getText().indexOf(text);
  if (start < 0) throw new Error(`no "${text}" in ${document.uri.path}`);
  return document.positionAt(start + within);
}

export async function setRules(rules: Record<string, string> | undefined): Promise<void> {
  await workspace.getConfiguration('linkwright').update('rules', rules, ConfigurationTarget.Workspace);
}

async function remember(file: string): Promise<void> {
  if (!originals.has(file)) originals.set(file, await onDisk(file));
}

/** Takes back what a test has changed, settings included, and closes what it has opened. */
async function restore(): Promise<void> {
  if (workspace.getConfiguration('linkwright').inspect('rules')?.workspaceValue !== undefined) await setRules(undefined);
  for (const document of workspace.textDocuments.filter(({ isDirty }) => isDirty)) {
    await window.showTextDocument(document);
    await commands.executeCommand('workbench.action.revertAndCloseActiveEditor');
  }
  await commands.executeCommand('workbench.action.closeAllEditors');
  for (const [file, text] of originals) if ((await onDisk(file)) !== text) await writeToDisk(file, text);
}

// ---- What VS Code shows -------------------------------------------------

export function ours(file: string): Diagnostic[] {
  return languages.getDiagnostics(uriOf(file)).filter(({ source }) => source === 'linkwright');
}

/** Our diagnostics of a file as soon as they fit, now or after a change of them. */
export function diagnostics(file: string, fits: (found: readonly Diagnostic[]) => boolean): Promise<Diagnostic[]> {
  return new Promise((resolve) => {
    const look = () => {
      const found = ours(file);
      if (!fits(found)) return;
      listening.dispose();
      resolve(found);
    };
    const listening = languages.onDidChangeDiagnostics(look);
    look();
  });
}
