/**
 * Answers that are computed once, in a program whose declarations may depend on each other in circles.
 *
 * A question that is asked again while it is being answered gets no answer there, and what was concluded from that is
 * kept only until the question is settled: it was a conclusion from too little. Depth and steps are bounded; beyond the
 * bounds a question has no answer, and it is counted. How long an answer holds is decided in `reading.ts`.
 */
import { Answers, Kept, type Reading } from './reading.js';

/** So deep may questions nest; each level costs some stack. */
const DEPTH_CAP = 220;
/** So many answers may one outer question need that were not known before. */
const STEP_CAP = 60_000;

/** The answers to one kind of question. */
export type Table<V> = Answers<object, Slot<V>>;

class Slot<V> extends Kept<V | undefined> {
  /**
   * @param state `SETTLED`; the level of the question while it is open; or, for a conclusion from too little, `EARLY` plus
   *   the level of the open question that it had to do without
   */
  constructor(public state: number) {
    super(undefined);
  }
}

const SETTLED = -1;
const EARLY = 1 << 20;

export class Memo {
  /** How many questions are open. */
  private level = 0;
  /** Lowest level of an open question that the running answer had to do without. */
  private lowest = Infinity;
  /** Early conclusions, those of the innermost question last. */
  private readonly early: { readonly level: number; readonly table: Table<unknown>; readonly key: object }[] = [];
  private steps = 0;
  /** Questions that were given up at a cap. */
  gaveUp = 0;

  constructor(readonly reading: Reading) {}

  table<V>(): Table<V> {
    return new Answers(this.reading);
  }

  once<V>(table: Table<V>, key: object, compute: () => V | undefined): V | undefined {
    const slot = table.get(key);
    if (slot !== undefined) {
      if (slot.state !== SETTLED) this.lowest = Math.min(this.lowest, slot.state >= EARLY ? slot.state - EARLY : slot.state);
      this.reading.uses(slot);
      return slot.value;
    }
    if (this.level === 0) this.steps = 0;
    if (this.level >= DEPTH_CAP || ++this.steps > STEP_CAP) {
      this.gaveUp++;
      this.lowest = 0;
      return undefined;
    }
    return this.answer(table, key, compute);
  }

  private answer<V>(table: Table<V>, key: object, compute: () => V | undefined): V | undefined {
    const level = this.level++;
    const outer = this.lowest;
    this.lowest = Infinity;
    const slot = new Slot<V>(level);
    table.set(key, slot);
    this.reading.begins();
    try {
      slot.value = compute();
    } catch (error) {
      table.delete(key);
      this.level = level;
      throw error;
    } finally {
      this.reading.ends(slot);
    }
    this.level = level;
    while (this.early.length > 0 && this.early.at(-1)!.level >= level) {
      const { table: its, key: that } = this.early.pop()!;
      its.delete(that);
    }
    if (this.lowest >= level) {
      slot.state = SETTLED;
      this.lowest = outer;
    } else {
      slot.state = EARLY + this.lowest;
      this.note(this.lowest, table as Table<unknown>, key);
      this.lowest = Math.min(outer, this.lowest);
    }
    return slot.value;
  }

  /** Kept sorted by level, so that those of the innermost question stand last. */
  private note(level: number, table: Table<unknown>, key: object): void {
    let at = this.early.length;
    while (at > 0 && this.early[at - 1]!.level > level) at--;
    this.early.splice(at, 0, { level, table, key });
  }
}

/** Answers to questions about a thing and a name: the pair is made a key once. */
export class NamedTable<V> {
  /** The keys live as long as the things: they are nodes of one file. */
  private readonly keys = new WeakMap<object, Map<string, object>>();
  private readonly table: Table<V>;

  constructor(private readonly memo: Memo) {
    this.table = memo.table();
  }

  once(of: object, name: string, compute: () => V | undefined): V | undefined {
    let names = this.keys.get(of);
    if (names === undefined) {
      names = new Map();
      this.keys.set(of, names);
    }
    let key = names.get(name);
    if (key === undefined) {
      key = {};
      names.set(name, key);
    }
    return this.memo.once(this.table, key, compute);
  }
}
