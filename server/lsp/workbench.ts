/**
 * What the editor's features ask of the analysis, and nothing more. It speaks in paths, offsets and findings and knows no
 * protocol; the features in this room turn those into the protocol's values. `project-workbench.ts` answers it with the
 * real project; tests of one feature may answer it with three lines.
 */
import type { FileEdits } from '../engine/edits.js';
import type { Finding, Fix } from '../engine/rule.js';
import type { Span } from '../ir/ir.js';
import type { Profile } from '../profile/types.js';
import type { Publication } from '../project/publish.js';
import type { Recognised, Totals } from './protocol.js';

export interface Workbench {
  /** Absolute paths of the workspace's folders. Called before any document, and again when folders come or go. */
  workspace(folders: readonly string[]): void;
  /**
   * What the user has set; called again on a change. Nothing is checked before the first call.
   * @returns sentences about settings that cannot be used
   */
  configure(settings: Settings): readonly string[];

  /** An editor holds this document now: its text counts, not the disk's. */
  open(path: string, version: number, text: string): void;
  change(path: string, version: number, text: string): void;
  saved(path: string): void;
  /** The disk's text counts again. */
  close(path: string): void;
  /** Files that appeared, changed or vanished on disk. */
  changedOnDisk(paths: readonly string[]): void;

  /** Reads every file of the workspace afresh, and checks it. */
  checkAll(): Promise<Totals>;

  /** Resolves once the file's present text is checked; also when that is not to be, because an edit came in between. */
  current(path: string): Promise<void>;
  /** The last finished check of a file; `undefined` if there was none. */
  published(path: string): Publication | undefined;
  /** Told of every publication, in order. A later one for a path replaces the earlier; an empty one clears it. */
  onPublish(listener: (publication: Publication) => void): void;
  /** Told when a check has ended or another profile is in force. */
  onStatus(listener: () => void): void;
  /** Told when the analysis itself gave way somewhere: something for a log and a bug report. */
  onProblem(listener: (sentence: string) => void): void;

  /** The text of a file as the analysis sees it. */
  textOf(path: string): string | undefined;
  /**
   * The text of a fix, with the user's answers (placeholder → text) in place; `undefined` where it cannot be written.
   * @param path the file that the finding stands in
   */
  editsOf(path: string, fix: Fix, answers: Readonly<Record<string, string>>): readonly FileEdits[] | undefined;
  /** Whether a comment may accept the finding: true of the rules, not of remarks about a profile or about an acceptance. */
  acceptable(finding: Finding): boolean;
  /** The UUID that is written, named or meant at an offset; `undefined` where the place holds none. */
  uuidAt(path: string, offset: number): UuidPlace | undefined;
  /** The device profile in force for a file (for a profile, itself); `stale` when its places are those of an earlier text. */
  profileFor(path: string): ProfileInForce | undefined;
  /** What is assumed for a file because no profile says it, one sentence each. */
  assumedFor(path: string): readonly string[];
  recognised(): Recognised;
}

export interface Settings {
  /** As the user wrote it: rule id → `error`, `warning`, `hint` or `off` in place of the rule's own severity. */
  readonly rules: unknown;
  /** False: a changed document is checked when it is saved. */
  readonly onType: boolean;
}

export interface ProfileInForce {
  readonly profile: Profile;
  readonly stale: boolean;
}

export interface UuidPlace {
  readonly at: Span;
  /** 128-bit lower-case text. */
  readonly uuid: string;
}
