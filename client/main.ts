/**
 * The VS Code side: starts the language server, tells it which files matter, and offers the commands. It analyses nothing.
 */
import { commands, window, workspace } from 'vscode';
import type { ExtensionContext } from 'vscode';
import { LanguageClient, TransportKind } from 'vscode-languageclient/node';
import type { LanguageClientOptions, ServerOptions } from 'vscode-languageclient/node';
import { COMMANDS } from '../server/lsp/protocol.js';
import { applyFix, checkWorkspace, createProfile, openPlace } from './commands.js';
import { DOCUMENTS, WATCHED } from './documents.js';
import { StatusItem } from './status.js';

let client: LanguageClient | undefined;

export async function activate(context: ExtensionContext): Promise<void> {
  const run = { module: context.asAbsolutePath('dist/server.js'), transport: TransportKind.ipc };
  const server: ServerOptions = { run, debug: run };
  const watchers = WATCHED.map((pattern) => workspace.createFileSystemWatcher(pattern));
  const options: LanguageClientOptions = { documentSelector: DOCUMENTS, synchronize: { fileEvents: watchers } };
  // The id is also the section of the settings: `linkwright.trace.server` is read under it.
  const started = new LanguageClient('linkwright', 'Linkwright', server, options);
  client = started;

  const status = new StatusItem(started);
  context.subscriptions.push(
    status,
    ...watchers,
    window.onDidChangeActiveTextEditor(() => status.refresh()),
    commands.registerCommand(COMMANDS.checkWorkspace, () => checkWorkspace(started)),
    commands.registerCommand(COMMANDS.createProfile, createProfile),
    commands.registerCommand(COMMANDS.restart, () => started.restart()),
    commands.registerCommand(COMMANDS.applyFix, (request) => applyFix(started, request)),
    commands.registerCommand(COMMANDS.openPlace, openPlace),
  );
  await started.start();
  await status.refresh();
}

export function deactivate(): Promise<void> | undefined {
  return client?.stop();
}
