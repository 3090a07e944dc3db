/**
 * A language client without an editor: the protocol's own implementation, joined to the server by a pair of streams in this
 * process. Tests wait for what the server sends, never for time to pass.
 */
import { PassThrough } from 'node:stream';
import { createProtocolConnection, StreamMessageReader, StreamMessageWriter } from 'vscode-languageserver-protocol/node';
import type {
  ClientCapabilities, CodeAction, Diagnostic, Hover, InitializeResult, ProtocolConnection, PublishDiagnosticsParams, Range, TextDocumentContentChangeEvent,
} from 'vscode-languageserver-protocol';
import { createConnection } from 'vscode-languageserver/node';
import { uriOf } from '../../server/lsp/places.js';
import { METHODS } from '../../server/lsp/protocol.js';
import { serve } from '../../server/lsp/serve.js';
import type { Workbench } from '../../server/lsp/workbench.js';

/** As VS Code says it, as far as the server asks. */
export const CAPABILITIES: ClientCapabilities = {
  workspace: {
    configuration: true, workspaceFolders: true, applyEdit: true,
    workspaceEdit: { documentChanges: true, snippetEditSupport: true },
    didChangeConfiguration: { dynamicRegistration: true },
  },
  textDocument: { publishDiagnostics: { relatedInformation: true, versionSupport: true } },
};

export interface SessionOptions {
  readonly folders?: readonly string[];
  /** The value of the section `linkwright`. */
  readonly settings?: unknown;
  readonly capabilities?: ClientCapabilities;
}

export interface Session {
  readonly client: ProtocolConnection;
  readonly initialized: InitializeResult;
  /** Every publication so far, in order. */
  readonly published: readonly PublishDiagnosticsParams[];
  /** The server's log messages so far. */
  readonly log: readonly string[];
  open(path: string, languageId: string, text: string): void;
  /** A new version of an open document. */
  change(path: string, version: number, ...changes: TextDocumentContentChangeEvent[]): void;
  save(path: string): void;
  close(path: string): void;
  /** The next publication, or one that came already and nobody waited for, that fits; earlier ones are passed over. */
  diagnostics(path: string, fits?: (params: PublishDiagnosticsParams) => boolean): Promise<PublishDiagnosticsParams>;
  /** The next word that the status has changed, or one that came already and nobody waited for. */
  statusChanged(): Promise<void>;
  actions(path: string, range: Range, diagnostics?: readonly Diagnostic[]): Promise<readonly CodeAction[]>;
  hover(path: string, line: number, character: number): Promise<Hover | null>;
  /** Changes the settings and says so. */
  configure(settings: unknown): void;
  end(): Promise<void>;
}

export async function startSession(workbench: Workbench, options: SessionOptions = {}): Promise<Session> {
  const toServer = new PassThrough();
  const toClient = new PassThrough();
  serve(createConnection(new StreamMessageReader(toServer), new StreamMessageWriter(toClient)), workbench);
  const client = createProtocolConnection(new StreamMessageReader(toClient), new StreamMessageWriter(toServer));

  let { settings } = options;
  const published: PublishDiagnosticsParams[] = [];
  const log: string[] = [];
  const waiting = new Set<() => void>();
  let taken = 0;
  let statusChanges = 0;
  client.onNotification('textDocument/publishDiagnostics', (params: PublishDiagnosticsParams) => {
    published.push(params);
    for (const look of waiting) look();
  });
  client.onNotification(METHODS.statusChanged, () => {
    statusChanges++;
    for (const look of waiting) look();
  });
  client.onNotification('window/logMessage', ({ message }: { message: string }) => void log.push(message));
  client.onRequest('workspace/configuration', ({ items }: { items: readonly unknown[] }) => items.map(() => settings ?? null));
  client.onRequest('client/registerCapability', () => null);
  client.listen();

  const initialized = await client.sendRequest<InitializeResult>('initialize', {
    processId: null, rootUri: null, capabilities: options.capabilities ?? CAPABILITIES,
    workspaceFolders: options.folders?.map((path) => ({ uri: uriOf(path), name: path })) ?? null,
  });
  await client.sendNotification('initialized', {});

  /** Resolves as soon as `look` answers something, now or after a notification. */
  const wait = <T>(look: () => T | undefined) =>
    new Promise<T>((resolve) => {
      const again = () => {
        const answer = look();
        if (answer === undefined) return;
        waiting.delete(again);
        resolve(answer);
      };
      waiting.add(again);
      again();
    });
  const tell = (method: string, params: object) => void client.sendNotification(method, params);
  return {
    client, initialized, published, log,
    open: (path, languageId, text) => tell('textDocument/didOpen', { textDocument: { uri: uriOf(path), languageId, version: 1, text } }),
    change: (path, version, ...contentChanges) => tell('textDocument/didChange', { textDocument: { uri: uriOf(path), version }, contentChanges }),
    save: (path) => tell('textDocument/didSave', { textDocument: { uri: uriOf(path) } }),
    close: (path) => tell('textDocument/didClose', { textDocument: { uri: uriOf(path) } }),
    diagnostics: (path, fits = () => true) =>
      wait(() => {
        const index = published.findIndex((params, at) => at >= taken && params.uri === uriOf(path) && fits(params));
        if (index >= 0) taken = index + 1;
        return published[index];
      }),
    statusChanged: async () => {
      await wait(() => (statusChanges > 0 ? true : undefined));
      statusChanges--;
    },
    actions: async (path, range, diagnostics = []) =>
      (await client.sendRequest<CodeAction[] | null>('textDocument/codeAction', { textDocument: { uri: uriOf(path) }, range, context: { diagnostics } })) ?? [],
    hover: (path, line, character) => client.sendRequest('textDocument/hover', { textDocument: { uri: uriOf(path) }, position: { line, character } }),
    configure: (next) => {
      settings = next;
      tell('workspace/didChangeConfiguration', { settings: null });
    },
    end: async () => {
      await client.sendRequest('shutdown');
      client.end();
      client.dispose();
    },
  };
}
