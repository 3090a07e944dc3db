/**
 * The item in the status bar: which device profile is in force for the active file, or that none is; in its hover, what was
 * recognised and what is assumed. It shows what the server says and computes nothing.
 */
import { languages, MarkdownString, StatusBarAlignment, ThemeColor, Uri, window } from 'vscode';
import type { Disposable, StatusBarItem } from 'vscode';
import type { LanguageClient } from 'vscode-languageclient/node';
import { COMMANDS, METHODS } from '../server/lsp/protocol.js';
import type { OpenPlace, Share, Status, StatusRequest } from '../server/lsp/protocol.js';
import { DOCUMENTS } from './documents.js';

export class StatusItem implements Disposable {
  private readonly item: StatusBarItem;
  private readonly listening: Disposable;

  constructor(private readonly client: LanguageClient) {
    this.item = window.createStatusBarItem('linkwright.status', StatusBarAlignment.Right, 100);
    this.item.name = 'Linkwright';
    this.listening = client.onNotification(METHODS.statusChanged, () => this.refresh());
  }

  /** Asks the server about the active file. Hidden beside files that are none of ours. */
  async refresh(): Promise<void> {
    const document = window.activeTextEditor?.document;
    if (!document || !this.client.isRunning() || languages.match(DOCUMENTS, document) === 0) return this.item.hide();
    const request: StatusRequest = { uri: this.client.code2ProtocolConverter.asUri(document.uri) };
    const status = await this.client.sendRequest<Status>(METHODS.status, request);
    if (window.activeTextEditor?.document === document) this.show(status);
  }

  dispose(): void {
    this.listening.dispose();
    this.item.dispose();
  }

  private show(status: Status): void {
    const { profile, recognised: { links, operations, callbacks } } = status;
    // A program without any Bluetooth in it needs no reminder that it lacks a device profile.
    if (!profile && [links, operations, callbacks].every(({ known, unknown }) => known + unknown === 0)) return this.item.hide();

    this.item.text = `$(radio-tower) ${profile ? profile.device : 'no device profile'}`;
    this.item.backgroundColor = profile ? undefined : new ThemeColor('statusBarItem.warningBackground');
    this.item.command = profile
      ? { title: 'Open the device profile', command: COMMANDS.openPlace, arguments: [{ uri: profile.uri, line: 0, character: 0 } satisfies OpenPlace] }
      : { title: 'Create a device profile', command: COMMANDS.createProfile };
    this.item.tooltip = tooltip(status);
    this.item.show();
  }
}

function tooltip({ profile, assumed, recognised }: Status): MarkdownString {
  const text = new MarkdownString(undefined, true);
  text.isTrusted = { enabledCommands: [COMMANDS.createProfile, COMMANDS.checkWorkspace] };
  text.appendMarkdown(profile ? `Device profile: ${Uri.parse(profile.uri).path.split('/').at(-1)}\n\n` : `No device profile. [Create one](command:${COMMANDS.createProfile})\n\n`);
  text.appendMarkdown(['Recognised', `- links: ${share(recognised.links)}`, `- operations: ${share(recognised.operations)}`, `- callbacks: ${share(recognised.callbacks)}`].join('\n'));
  if (assumed.length > 0) text.appendMarkdown(`\n\nAssumed\n${assumed.map((sentence) => `- ${sentence}`).join('\n')}`);
  return text.appendMarkdown(`\n\n[Check whole workspace](command:${COMMANDS.checkWorkspace})`);
}

function share({ known, unknown }: Share): string {
  return unknown === 0 ? `${known}` : `${known} of ${known + unknown}`;
}
