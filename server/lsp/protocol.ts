/**
 * What this client and this server say to each other beyond the Language Server Protocol: names and shapes, no behaviour.
 * The client reads this module too; it is the only one of the server's that it reads.
 */
import type { WorkspaceEdit } from 'vscode-languageserver-protocol';
import type { Coverage, Share } from '../engine/coverage.js';

/** Commands that the client offers. `applyFix` and `openPlace` stand behind light-bulb entries, the others in the palette. */
export const COMMANDS = {
  checkWorkspace: 'linkwright.checkWorkspace',
  createProfile: 'linkwright.createProfile',
  restart: 'linkwright.restart',
  applyFix: 'linkwright.applyFix',
  openPlace: 'linkwright.openPlace',
} as const;

/** Requests (client to server) and notifications (server to client). */
export const METHODS = {
  /** `() → Totals`: read every file of the workspace afresh and check it. */
  checkWorkspace: 'linkwright/checkWorkspace',
  /** `FixRequest → WorkspaceEdit | null`: the text of a fix, once the user has named what it asks for. */
  fixEdits: 'linkwright/fixEdits',
  /** `StatusRequest → Status`: what holds for one file. */
  status: 'linkwright/status',
  /** Server to client, without parameters: a check has ended, or a profile has changed; ask for the status again. */
  statusChanged: 'linkwright/statusChanged',
} as const;

/** Arguments of the command `applyFix`, and after the questions of the request `fixEdits`. */
export interface FixRequest {
  readonly uri: string;
  readonly rule: string;
  /** Where the finding begins, in UTF-16 code units of the text. */
  readonly start: number;
  /** The fix's title, which tells it from the finding's other fixes. */
  readonly title: string;
  /** What the user is asked, each answer filling one placeholder. */
  readonly asks: readonly { readonly placeholder: string; readonly question: string; readonly initial: string }[];
  /** Placeholder → the user's answer; empty until asked. */
  readonly answers: Readonly<Record<string, string>>;
}
export type FixReply = WorkspaceEdit | null;

/** Arguments of the command `openPlace`: a zero-based line and UTF-16 column. */
export interface OpenPlace {
  readonly uri: string;
  readonly line: number;
  readonly character: number;
}

export interface Totals {
  readonly files: number;
  readonly errors: number;
  readonly warnings: number;
  readonly hints: number;
}

export interface StatusRequest {
  /** The file in the active editor; absent: none. */
  readonly uri?: string;
}

export interface Status {
  /** The device profile in force for the file. */
  readonly profile?: { readonly uri: string; readonly device: string };
  /** What is assumed because no profile says it, one sentence each. */
  readonly assumed: readonly string[];
  /** What was recognised in the checked files, and what was not. */
  readonly recognised: Recognised;
}

/** How many of each were understood, and how many were not. */
export type Recognised = Pick<Coverage, 'links' | 'operations' | 'callbacks'>;
export type { Share };
