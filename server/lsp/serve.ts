/**
 * The language server over one connection: says what it can do, hands documents and settings to the workbench, and joins
 * the features. Nothing of the analysis is decided here.
 */
import { TextDocument } from 'vscode-languageserver-textdocument';
import { CodeActionKind, DidChangeConfigurationNotification, TextDocuments, TextDocumentSyncKind } from 'vscode-languageserver/node';
import type { Connection, InitializeParams } from 'vscode-languageserver/node';
import { baseName } from '../project/paths.js';
import { answeredFix, codeActions } from './code-actions.js';
import type { Editor } from './code-actions.js';
import { diagnosticsParams } from './diagnostics.js';
import { hover } from './hover.js';
import { pathOf, uriOf } from './places.js';
import { METHODS } from './protocol.js';
import type { FixReply, FixRequest, Status, StatusRequest, Totals } from './protocol.js';
import type { Workbench } from './workbench.js';

/** Serves the connection until the client ends it. The workbench is made before the first document arrives. */
export function serve(connection: Connection, workbench: Workbench): void {
  const documents = new TextDocuments(TextDocument);
  const opened = new Map<string, string>();
  let folders: string[] = [];
  let ended = false;
  let can = { snippets: false, configuration: false, folderChanges: false };

  const editor: Editor = {
    get snippets() { return can.snippets; },
    opened(path) {
      const document = documents.get(opened.get(path) ?? '');
      return document && { uri: document.uri, version: document.version };
    },
  };

  connection.onInitialize((params) => {
    folders = foldersOf(params);
    const { workspace } = params.capabilities;
    can = {
      snippets: workspace?.workspaceEdit?.snippetEditSupport === true,
      configuration: workspace?.configuration === true,
      folderChanges: workspace?.workspaceFolders === true,
    };
    return {
      serverInfo: { name: 'linkwright' },
      capabilities: {
        textDocumentSync: { openClose: true, change: TextDocumentSyncKind.Incremental, save: true },
        codeActionProvider: { codeActionKinds: [CodeActionKind.QuickFix] },
        hoverProvider: true,
        workspace: { workspaceFolders: { supported: true, changeNotifications: can.folderChanges } },
      },
    };
  });

  const configure = async () => {
    // An editor without settings, or without ours, gives null; one that fails to answer is not to keep us from checking.
    const set: UserSettings | null = can.configuration ? await connection.workspace.getConfiguration('linkwright').catch(() => null) : null;
    if (ended) return;
    const problems = workbench.configure({ rules: set?.rules, onType: set?.check?.onType !== false });
    for (const problem of problems) connection.console.warn(problem);
  };
  connection.onInitialized(async () => {
    workbench.workspace(folders);
    if (can.folderChanges) {
      connection.workspace.onDidChangeWorkspaceFolders(({ added, removed }) => {
        const gone = new Set(removed.map(({ uri }) => uri));
        const kept = folders.filter((folder) => !gone.has(uriOf(folder)));
        folders = [...kept, ...added.flatMap(({ uri }) => pathOf(uri) ?? [])];
        workbench.workspace(folders);
      });
    }
    await configure();
    if (can.configuration && !ended) await connection.client.register(DidChangeConfigurationNotification.type, { section: 'linkwright' }).catch(() => undefined);
  });
  connection.onDidChangeConfiguration(configure);
  connection.onShutdown(() => void (ended = true));

  // Opening a document counts as its first change.
  documents.onDidChangeContent(({ document }) => {
    const path = pathOf(document.uri);
    if (path === undefined) return;
    if (opened.has(path)) return workbench.change(path, document.version, document.getText());
    opened.set(path, document.uri);
    workbench.open(path, document.version, document.getText());
  });
  documents.onDidSave(({ document }) => {
    const path = pathOf(document.uri);
    if (path !== undefined) workbench.saved(path);
  });
  documents.onDidClose(({ document }) => {
    const path = pathOf(document.uri);
    if (path === undefined) return;
    opened.delete(path);
    workbench.close(path);
  });
  connection.onDidChangeWatchedFiles(({ changes }) => workbench.changedOnDisk(changes.flatMap(({ uri }) => pathOf(uri) ?? [])));

  workbench.onPublish((publication) => {
    if (!ended) void connection.sendDiagnostics(diagnosticsParams(publication, opened.get(publication.path), workbench));
  });
  connection.onCodeAction(async ({ textDocument, range }) => {
    const path = pathOf(textDocument.uri);
    if (path === undefined) return [];
    await workbench.current(path);
    return codeActions(path, range, workbench, editor);
  });
  connection.onHover(({ textDocument, position }) => {
    const path = pathOf(textDocument.uri);
    return path === undefined ? null : hover(path, position, workbench);
  });

  connection.onRequest(METHODS.checkWorkspace, (): Promise<Totals> => workbench.checkAll());
  connection.onRequest(METHODS.fixEdits, async (request: FixRequest): Promise<FixReply> => {
    const path = pathOf(request.uri);
    if (path === undefined) return null;
    await workbench.current(path);
    return answeredFix(path, request, workbench, editor);
  });
  connection.onRequest(METHODS.status, ({ uri }: StatusRequest): Status => {
    const path = uri === undefined ? undefined : pathOf(uri);
    const profile = path === undefined ? undefined : workbench.profileFor(path)?.profile;
    return {
      ...(profile && { profile: { uri: uriOf(profile.path), device: profile.device.name?.value ?? baseName(profile.path) } }),
      assumed: path === undefined ? [] : workbench.assumedFor(path),
      recognised: workbench.recognised(),
    };
  });
  workbench.onProblem((sentence) => connection.console.error(sentence));
  workbench.onStatus(() => {
    if (!ended) void connection.sendNotification(METHODS.statusChanged);
  });

  documents.listen(connection);
  connection.listen();
}

/** The section `linkwright` of the editor's settings, unchecked. */
interface UserSettings {
  readonly rules?: unknown;
  readonly check?: { readonly onType?: unknown };
}

function foldersOf(params: InitializeParams): string[] {
  const uris = params.workspaceFolders?.map(({ uri }) => uri) ?? (params.rootUri ? [params.rootUri] : []);
  return uris.flatMap((uri) => pathOf(uri) ?? []);
}
