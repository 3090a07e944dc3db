/**
 * What the commands do: each asks the user what it must know, and leaves the rest to the server or to VS Code.
 */
import { commands, ProgressLocation, Range, Uri, window, workspace } from 'vscode';
import type { LanguageClient } from 'vscode-languageclient/node';
import { METHODS } from '../server/lsp/protocol.js';
import type { FixReply, FixRequest, OpenPlace, Totals } from '../server/lsp/protocol.js';
import { profileFileName, startingProfile } from './starting-profile.js';

/** Says the counts when it is done; the message stays as long as the user leaves it. */
export async function checkWorkspace(client: LanguageClient): Promise<Totals> {
  const progress = { location: ProgressLocation.Window, title: 'Linkwright checks the workspace' };
  const totals = await window.withProgress(progress, () => client.sendRequest<Totals>(METHODS.checkWorkspace));
  void showTotals(totals);
  return totals;
}

async function showTotals({ files, errors, warnings, hints }: Totals): Promise<void> {
  const show = 'Show problems';
  const counted = `${count(files, 'file')} checked: ${count(errors, 'error')}, ${count(warnings, 'warning')}, ${count(hints, 'hint')}.`;
  if ((await window.showInformationMessage(counted, show)) === show) await commands.executeCommand('workbench.actions.view.problems');
}

/** Writes a commented starting profile into the workspace folder of the user's choice and opens it; an existing file is only opened. */
export async function createProfile(): Promise<void> {
  const folders = workspace.workspaceFolders ?? [];
  const folder = folders.length > 1 ? await window.showWorkspaceFolderPick({ placeHolder: 'Folder of the application' }) : folders[0];
  if (!folder) {
    if (folders.length === 0) void window.showWarningMessage('Open a folder first: the device profile is kept beside the code.');
    return;
  }
  const device = await window.showInputBox({ title: 'Create device profile', prompt: 'Name of the device', placeHolder: 'hive-scale' });
  if (!device?.trim()) return;
  const file = Uri.joinPath(folder.uri, profileFileName(device));
  if (!(await exists(file))) await workspace.fs.writeFile(file, new TextEncoder().encode(startingProfile(device.trim())));
  await window.showTextDocument(file);
}

/** Asks for the names that a fix needs, then applies it. Nothing changes when the user leaves a question open. */
export async function applyFix(client: LanguageClient, request: FixRequest): Promise<void> {
  const answers: Record<string, string> = {};
  for (const { placeholder, question, initial } of request.asks) {
    const answer = await window.showInputBox({ title: request.title, prompt: question, value: initial, validateInput: (text) => (isName(text) ? undefined : 'A name: letters, digits and _') });
    if (answer === undefined) return;
    answers[placeholder] = answer;
  }
  const reply = await client.sendRequest<FixReply>(METHODS.fixEdits, { ...request, answers } satisfies FixRequest);
  if (!reply) {
    void window.showWarningMessage('The code has changed meanwhile: nothing was applied.');
    return;
  }
  await workspace.applyEdit(await client.protocol2CodeConverter.asWorkspaceEdit(reply));
}

export async function openPlace({ uri, line, character }: OpenPlace): Promise<void> {
  await window.showTextDocument(Uri.parse(uri), { selection: new Range(line, character, line, character) });
}

/** A dotted name is one as well: `operations.failed`. */
function isName(text: string): boolean {
  return /^[A-Za-z_$][\w$]*(\.[A-Za-z_$][\w$]*)*$/.test(text);
}

function count(n: number, noun: string): string {
  return `${n} ${noun}${n === 1 ? '' : 's'}`;
}

async function exists(file: Uri): Promise<boolean> {
  return workspace.fs.stat(file).then(() => true, () => false);
}
