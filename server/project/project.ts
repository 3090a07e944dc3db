/**
 * A project under check: its files, what of them is to be checked again, and what is published about them. Joins the
 * modules of this room; the editor's side and the command line both stand on it, so that they say the same.
 *
 * A change ends the run that is under way; the next call of `check` goes on with what is still due. Nothing here waits
 * for a time: between two files it pauses, so that edits and cancels are heard.
 */
import type { Settings } from '../engine/settings.js';
import { checkFile, type Checker, type FileCheck } from './check.js';
import { fileKind } from './files.js';
import { Freshness } from './freshness.js';
import { nothingPublished, publish, type Event, type Publication, type Published } from './publish.js';
import { Snapshot, type Change, type Linking } from './snapshot.js';

export interface Host {
  readonly linking: Linking;
  readonly checker: Checker;
  /** False for files that are only read because others need them; absent: all are checked. */
  isWanted?(path: string): boolean;
  /** Lets whatever else waits for its turn have it: edits, cancels, the screen. */
  pause(): Promise<void>;
}

export class Project {
  private current: Snapshot;
  private published: Published = nothingPublished;
  private run = 0;
  private underWay: AbortController | undefined;
  private readonly checks = new Map<string, FileCheck>();
  private readonly surroundings = new Map<string, string>();
  private readonly freshness: Freshness;
  private readonly listeners: ((publication: Publication) => void)[] = [];

  constructor(private readonly host: Host, private settings: Settings) {
    this.current = Snapshot.empty(host.linking);
    this.freshness = new Freshness((path, names) => this.mentions(path, names));
  }

  get snapshot(): Snapshot {
    return this.current;
  }

  /** The last finished check of every file, in the order of paths. */
  results(): readonly FileCheck[] {
    return [...this.checks.values()].sort((a, b) => (a.path < b.path ? -1 : 1));
  }

  resultOf(path: string): FileCheck | undefined {
    return this.checks.get(path);
  }

  /** Told of everything that is to be shown, in order; a later publication for a path replaces the earlier. */
  onPublish(listener: (publication: Publication) => void): void {
    this.listeners.push(listener);
  }

  /** Makes the next snapshot and ends the run under way. Call `check` afterwards. */
  apply(changes: readonly Change[]): void {
    const { snapshot, changed } = this.current.apply(changes);
    this.cancel();
    this.current = snapshot;
    for (const change of changes) this.tellOfDocument(change);
    const gone = [...changed].filter((path) => snapshot.textOf(path) === undefined);
    for (const path of gone) {
      this.checks.delete(path);
      this.surroundings.delete(path);
      this.tell({ is: 'gone', path });
    }
    const edited = [...changed].filter((path) => snapshot.textOf(path) !== undefined && this.isChecked(path));
    const isElsewhere = [...changed].some((path) => fileKind(path) !== 'source');
    this.freshness.change({ edited, gone, surroundings: isElsewhere ? this.withOtherSurroundings() : [] });
  }

  configure(settings: Settings): void {
    this.settings = settings;
    this.cancel();
    this.freshness.change({ edited: [], surroundings: [...this.checks.keys()] });
  }

  /**
   * Checks whatever is due, one file after the other, and publishes each. False when it was cancelled, by the signal or
   * by a change: then what is left stays due.
   * @param onChecked told of every finished file, and how many have been finished in this run
   */
  async check(signal?: AbortSignal, onChecked?: (check: FileCheck, done: number) => void): Promise<boolean> {
    this.cancel();
    const run = ++this.run;
    const own = new AbortController();
    this.underWay = own;
    const isCancelled = (): boolean => own.signal.aborted || signal?.aborted === true;
    this.tell({ is: 'started', run });
    for (let done = 1; ; done++) {
      await this.host.pause();
      if (isCancelled()) {
        this.tell({ is: 'cancelled', run });
        return false;
      }
      const path = this.freshness.next((open) => this.current.isOpen(open));
      if (path === undefined) {
        if (this.markOtherwiseConcerned()) continue;
        return true;
      }
      const check = this.checkOne(path);
      const { text, version, findings } = check;
      this.tell({ is: 'checked', run, result: { path, text, findings, ...(version !== undefined && { version }) } });
      onChecked?.(check, done);
    }
  }

  private checkOne(path: string): FileCheck {
    const check = checkFile(path, this.current, this.host.checker, this.settings);
    this.checks.set(path, check);
    if (fileKind(path) === 'source') this.surroundings.set(path, this.host.checker.surroundings(path, this.current));
    this.freshness.finished(path, check);
    return check;
  }

  private cancel(): void {
    this.underWay?.abort();
    this.underWay = undefined;
  }

  /** Sources for which another profile, or other target levels, are in force than at their last check. */
  private withOtherSurroundings(): string[] {
    return [...this.surroundings].flatMap(([path, before]) =>
      this.host.checker.surroundings(path, this.current) === before ? [] : [path]);
  }

  /**
   * An edit may join a file to the code around a link, or part it, without a word of it changing. True if there was any
   * such: they are then due.
   */
  private markOtherwiseConcerned(): boolean {
    const { concerns } = this.host.checker;
    if (concerns === undefined) return false;
    const others = [...this.checks.values()].filter(({ path, concerned }) => concerned !== undefined && concerns(path, this.current) !== concerned);
    if (others.length > 0) this.freshness.change({ edited: [], surroundings: others.map(({ path }) => path) });
    return others.length > 0;
  }

  private isChecked(path: string): boolean {
    const kind = fileKind(path);
    return (kind === 'source' || kind === 'profile') && this.host.isWanted?.(path) !== false;
  }

  private mentions(path: string, names: ReadonlySet<string>): boolean {
    const text = this.current.textOf(path);
    if (text === undefined) return false;
    for (const name of names) if (name !== '' && text.includes(name)) return true;
    return false;
  }

  private tellOfDocument(change: Change): void {
    if (change.is === 'edited') this.tell({ is: 'edited', path: change.path, version: change.version });
    if (change.is === 'closed') this.tell({ is: 'closed', path: change.path, stays: this.current.isOnDisk(change.path) });
  }

  private tell(event: Event): void {
    const { state, send } = publish(this.published, event);
    this.published = state;
    for (const publication of send) for (const listener of this.listeners) listener(publication);
  }
}
