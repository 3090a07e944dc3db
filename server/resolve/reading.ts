/**
 * What answers were read from, so that they outlive an edit which they have nothing to do with.
 *
 * While an answer is computed, the program notes of which files it showed nodes and which names it was asked for. A node
 * of another file than those at hand is only ever found by a name, or through another answer, whose notes are then taken
 * over. So after an edit an answer still holds if it was shown nothing of the edited files and asked for no name that is
 * new in them.
 *
 * Files and names are noted as bits. Where two share one, an answer is taken to rest on both: it may be computed again
 * without need, but is never kept without right.
 */

/** What an answer was read from. */
export interface Basis {
  /** Bits of files, in two words. */
  low: number;
  high: number;
  /** Bits of names. */
  names: number;
  /** The number of edits after which it was last known to hold. */
  at: number;
}

/** Paths; computed when it is asked, as few ask and every check would have to gather them. */
export interface FilesRead extends Iterable<string> {
  has(path: string): boolean;
}

/** Bits in a word: as many as a small integer of the engine has without its sign. */
const BITS = 31;
/** Edits to a turn; an answer that nobody asked for in the last turn and in this one is forgotten. */
const TURN = 4;

export class Reading {
  private low = 0;
  private high = 0;
  private names = 0;
  /** How many edits there were. */
  edits = 0;
  /** Rises with the edits, once in a while: time to forget. */
  turn = 0;
  /** Notes of the answers that wait for the running one, three words each. */
  private readonly waiting: number[] = [];
  private readonly bits = new Map<string, number>();
  /** What the latest edits changed. */
  private changes: readonly Omit<Basis, 'at'>[] = [];

  // ---- Noting ---------------------------------------------------------------

  /** Nodes of the file are shown. */
  shows(path: string): void {
    const bit = this.bitOf(path);
    if (bit < BITS) this.low |= 1 << bit;
    else this.high |= 1 << (bit - BITS);
  }

  /** A name is asked for; `key` tells names of different kinds apart. */
  asks(key: string): void {
    this.names |= bitOfName(key);
  }

  /** The running answer uses one that is known. */
  uses(basis: Basis): void {
    this.low |= basis.low;
    this.high |= basis.high;
    this.names |= basis.names;
  }

  /** From here on notes are those of another answer, until `ends`. */
  begins(): void {
    this.waiting.push(this.low, this.high, this.names);
    this.low = this.high = this.names = 0;
  }

  /** Hands the notes to the answer, and to the one that asked for it. */
  ends(basis: Basis): void {
    basis.low = this.low;
    basis.high = this.high;
    basis.names = this.names;
    basis.at = this.edits;
    this.names |= this.waiting.pop()!;
    this.high |= this.waiting.pop()!;
    this.low |= this.waiting.pop()!;
  }

  // ---- Judging --------------------------------------------------------------

  /** Whether the answer still holds. */
  holds(basis: Basis): boolean {
    if (basis.at === this.edits) return true;
    const missed = this.edits - basis.at;
    if (missed > this.changes.length) return false;
    for (const change of missed === this.changes.length ? this.changes : this.changes.slice(-missed)) {
      if ((change.low & basis.low) !== 0 || (change.high & basis.high) !== 0 || (change.names & basis.names) !== 0) return false;
    }
    basis.at = this.edits;
    return true;
  }

  /** These files have another text, in which these names are new. */
  edited(paths: Iterable<string>, names: Iterable<string>): void {
    const change = { low: 0, high: 0, names: 0 };
    for (const path of paths) {
      const bit = this.bitOf(path);
      if (bit < BITS) change.low |= 1 << bit;
      else change.high |= 1 << (bit - BITS);
    }
    for (const key of names) change.names |= bitOfName(key);
    this.edits++;
    this.turn = Math.floor(this.edits / TURN);
    this.changes = [...this.changes.slice(1 - 2 * TURN), change];
  }

  /** The files of which nodes may have been shown. */
  filesOf(basis: Basis): FilesRead {
    const { bits } = this;
    const saw = (bit: number): boolean => ((bit < BITS ? basis.low >> bit : basis.high >> (bit - BITS)) & 1) === 1;
    return {
      has(path) {
        const bit = bits.get(path);
        return bit !== undefined && saw(bit);
      },
      * [Symbol.iterator]() {
        for (const [path, bit] of bits) if (saw(bit)) yield path;
      },
    };
  }

  /** Files get their bits in the order in which they are first shown, so that a small program has none that are shared. */
  private bitOf(path: string): number {
    let bit = this.bits.get(path);
    if (bit === undefined) {
      bit = this.bits.size % (2 * BITS);
      this.bits.set(path, bit);
    }
    return bit;
  }
}

function bitOfName(key: string): number {
  let hash = 0;
  for (let i = 0; i < key.length; i++) hash = (Math.imul(hash, 31) + key.charCodeAt(i)) | 0;
  return 1 << ((hash >>> 1) % BITS);
}

/** An answer and what it was read from. */
export class Kept<V> implements Basis {
  low = 0;
  high = 0;
  names = 0;
  at = 0;

  constructor(public value: V) {}
}

/** Answers to one kind of question, as long as they hold. */
export class Answers<K, V extends Basis> {
  private recent = new Map<K, V>();
  private older: ReadonlyMap<K, V> | undefined;
  private turn: number;

  constructor(private readonly reading: Reading) {
    this.turn = reading.turn;
  }

  get(key: K): V | undefined {
    if (this.turn !== this.reading.turn) this.age();
    let found = this.recent.get(key);
    if (found === undefined && this.older !== undefined) found = this.broughtBack(key);
    if (found === undefined || this.reading.holds(found)) return found;
    this.recent.delete(key);
    return undefined;
  }

  set(key: K, answer: V): void {
    answer.at = this.reading.edits;
    this.recent.set(key, answer);
  }

  delete(key: K): void {
    this.recent.delete(key);
  }

  /** What was asked for in the last turn can still be brought back; what was not is let go, with the files it holds. */
  private age(): void {
    this.older = this.turn + 1 === this.reading.turn ? this.recent : undefined;
    this.recent = new Map();
    this.turn = this.reading.turn;
  }

  private broughtBack(key: K): V | undefined {
    const found = this.older?.get(key);
    if (found !== undefined) this.recent.set(key, found);
    return found;
  }
}
