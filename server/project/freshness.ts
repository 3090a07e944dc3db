/**
 * After a change: which files are to be checked again, and in which order. It compares faces (`face.ts`), reads nothing
 * and checks nothing; equal calls in equal order have equal answers.
 *
 * A check of a file in one snapshot is right for that snapshot, whatever the order in which files are checked. So a
 * finished check goes stale only when the file's own text or surroundings change, when a file that it consulted shows
 * another face, or when a name that it says begins or ceases to mean something. While faces stay the same, work stops at
 * the file itself: typing inside a body concerns nobody else.
 */
import { headsThatDiffer, type Face } from './face.js';

export interface Result {
  readonly consulted: Consulted;
  readonly face: Face;
}

/** The files that a verdict was read from, by path; it may claim more than there were. */
export type Consulted = Pick<ReadonlySet<string>, 'has'>;

export interface TextChange {
  /** Files with another text, new ones included. */
  readonly edited: Iterable<string>;
  readonly gone?: Iterable<string>;
  /** Files for which something other than text changed: the profile in force, the target levels, the settings. */
  readonly surroundings?: Iterable<string>;
}

export class Freshness {
  private snapshot = 0;
  private readonly checks = new Map<string, Result & { readonly snapshot: number }>();
  private readonly due = new Map<string, Due>();
  /** How many checks belong to the snapshot that counts: when all do, nothing can be stale. */
  private current = 0;
  /** What is due, in reverse order; absent when it has to be sorted anew. */
  private queue: string[] | undefined;

  /** @param mentions whether a file's text holds one of the names, whatever they stand for in it */
  constructor(private readonly mentions: (path: string, names: ReadonlySet<string>) => boolean) {}

  /** A new snapshot counts from now on. */
  change(change: TextChange): void {
    this.snapshot++;
    this.current = 0;
    for (const path of change.edited) this.mark(path, true);
    for (const path of change.surroundings ?? []) this.mark(path, false);
    for (const path of change.gone ?? []) {
      const face = this.checks.get(path)?.face;
      this.forget(path);
      this.due.delete(path);
      if (this.mayBeStale()) this.markDependents(path, headsThatDiffer(face, undefined), () => true);
    }
    this.queue = undefined;
  }

  /** What to check next: the edited document, then others that an editor shows, then the rest, edited ones first; `undefined` when all is fresh. */
  next(isOpen: (path: string) => boolean): string | undefined {
    this.queue ??= this.inOrder(isOpen);
    return this.queue.at(-1);
  }

  /** A file was checked in the snapshot that counts; what rested on its former face is due from now on. */
  finished(path: string, result: Result): void {
    const before = this.checks.get(path)?.face;
    const since = this.due.get(path)?.since ?? this.snapshot;
    this.forget(path);
    this.due.delete(path);
    if (this.queue?.at(-1) === path) this.queue.pop();
    else this.queue = undefined;
    this.checks.set(path, { ...result, snapshot: this.snapshot });
    this.current++;
    // Faces cost something to read, and while everything is checked for the first time nothing rests on an older one.
    if (!this.mayBeStale()) return;
    const hasNewFace = before?.digest !== result.face.digest;
    if (!hasNewFace && since === this.snapshot) return;
    // One that was checked while this file was due may have seen a face that no record holds.
    this.markDependents(path, headsThatDiffer(before, result.face), (seenIn) => hasNewFace || seenIn >= since);
  }

  private mayBeStale(): boolean {
    return this.current < this.checks.size;
  }

  private markDependents(path: string, names: ReadonlySet<string>, isStale: (seenIn: number) => boolean): void {
    const mark = (other: string, seenIn: number): void => {
      if (other !== path && seenIn !== this.snapshot && !this.due.has(other)) this.mark(other, false);
    };
    for (const [other, check] of this.checks) {
      const isConcerned = isStale(check.snapshot) && check.consulted.has(path);
      if (isConcerned || (names.size > 0 && this.mentions(other, names))) mark(other, check.snapshot);
    }
  }

  private mark(path: string, edited: boolean): void {
    const before = this.due.get(path);
    this.due.set(path, { since: before?.since ?? this.snapshot, edited: edited || before?.edited === true });
    this.queue = undefined;
  }

  private forget(path: string): void {
    const check = this.checks.get(path);
    if (check === undefined) return;
    if (check.snapshot === this.snapshot) this.current--;
    this.checks.delete(path);
  }

  private inOrder(isOpen: (path: string) => boolean): string[] {
    const rank = (path: string): number => (isOpen(path) ? 0 : 2) + (this.due.get(path)?.edited === true ? 0 : 1);
    const ranked = [...this.due.keys()].map((path) => ({ path, rank: rank(path) }));
    ranked.sort((a, b) => b.rank - a.rank || (a.path < b.path ? 1 : -1));
    return ranked.map(({ path }) => path);
  }
}

interface Due {
  /** Number of the snapshot since which. */
  readonly since: number;
  readonly edited: boolean;
}
