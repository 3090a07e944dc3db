/**
 * An analysis of three lines, so that a test decides what is found: it reports what it is told to report about a text, at
 * once and in the order of the changes. The real one has tests of its own.
 */
import type { FileEdits } from '../../server/engine/edits.js';
import type { Finding, Fix } from '../../server/engine/rule.js';
import type { Profile } from '../../server/profile/types.js';
import type { Publication } from '../../server/project/publish.js';
import type { Settings, UuidPlace, Workbench } from '../../server/lsp/workbench.js';

export interface Small {
  /** What is found in a text. */
  findings?(path: string, text: string): readonly Finding[];
  edits?(path: string, fix: Fix, answers: Readonly<Record<string, string>>): readonly FileEdits[] | undefined;
  uuid?(text: string, offset: number): UuidPlace | undefined;
  profile?: Profile;
  /** A changed document is not checked until the test calls `check`. */
  slow?: true;
  /** Files that no editor holds. */
  disk?: Readonly<Record<string, string>>;
  /** Sentences about every settings object. */
  problems?: readonly string[];
}

/** What the server did with it, in order. */
export type Told = readonly [what: 'workspace' | 'configure' | 'open' | 'change' | 'saved' | 'close' | 'disk', ...details: unknown[]];

export class SmallWorkbench implements Workbench {
  readonly told: Told[] = [];
  private readonly texts = new Map<string, string>();
  private readonly shown = new Map<string, Publication>();
  private publish: (publication: Publication) => void = () => {};
  private status: () => void = () => {};

  constructor(private readonly small: Small = {}) {}

  workspace(folders: readonly string[]): void {
    this.told.push(['workspace', ...folders]);
  }
  configure(settings: Settings): readonly string[] {
    this.told.push(['configure', settings]);
    this.status();
    return this.small.problems ?? [];
  }
  open(path: string, version: number, text: string): void {
    this.told.push(['open', path, version, text]);
    this.check(path, version, text);
  }
  change(path: string, version: number, text: string): void {
    this.told.push(['change', path, version, text]);
    if (!this.small.slow) this.check(path, version, text);
  }
  saved(path: string): void {
    this.told.push(['saved', path]);
  }
  close(path: string): void {
    this.told.push(['close', path]);
    this.texts.delete(path);
    this.shown.delete(path);
    this.publish({ path, text: '', findings: [] });
  }
  changedOnDisk(paths: readonly string[]): void {
    this.told.push(['disk', ...paths]);
  }
  /** Publishes what is found, as a check that has ended would. */
  check(path: string, version: number, text: string): void {
    this.texts.set(path, text);
    const publication = { path, version, text, findings: this.small.findings?.(path, text) ?? [] };
    this.shown.set(path, publication);
    this.publish(publication);
  }

  async checkAll() {
    const findings = [...this.shown.values()].flatMap((publication) => publication.findings);
    const count = (severity: Finding['severity']) => findings.filter((finding) => finding.severity === severity).length;
    return { files: this.shown.size, errors: count('error'), warnings: count('warning'), hints: count('hint') };
  }
  async current(): Promise<void> {}
  published(path: string) {
    return this.shown.get(path);
  }
  onPublish(listener: (publication: Publication) => void): void {
    this.publish = listener;
  }
  onStatus(listener: () => void): void {
    this.status = listener;
  }
  onProblem(): void {}
  textOf(path: string) {
    return this.texts.get(path) ?? this.small.disk?.[path];
  }
  editsOf(path: string, fix: Fix, answers: Readonly<Record<string, string>>) {
    return this.small.edits?.(path, fix, answers);
  }
  acceptable(finding: Finding): boolean {
    return !finding.rule.startsWith('acceptance-');
  }
  uuidAt(path: string, offset: number) {
    return this.small.uuid?.(this.textOf(path) ?? '', offset);
  }
  profileFor() {
    return this.small.profile && { profile: this.small.profile, stale: false };
  }
  assumedFor() {
    return this.small.profile ? [] : ['The app runs on Android 5.0 and later.'];
  }
  recognised() {
    return { links: { known: 1, unknown: 1 }, operations: { known: 3, unknown: 0 }, callbacks: { known: 0, unknown: 0 } };
  }
}

/** A finding at the first place of `word` in a text. */
export function findingAt(path: string, text: string, word: string, more: Partial<Finding> = {}): Finding {
  const start = text.indexOf(word);
  return {
    rule: 'link-not-closed', severity: 'warning', path, at: { start, end: start + word.length },
    message: 'The link is never closed', related: [], fixes: [], within: 'HiveLink.open', ...more,
  };
}
