/**
 * Answers that are computed once, in a program whose declarations may depend on each other in circles.
 *
 * A question that is asked again while it is being answered gets no answer there, and what was concluded from that is
 * kept only until the question is settled: it was a conclusion from too little. Depth and steps are bounded; beyond the
 * bounds a question has no answer, and it is counted.
 */

/** So deep may questions nest; each level costs some stack. */
const DEPTH_CAP = 220;
/** So many answers may one outer question need that were not known before. */
const STEP_CAP = 60_000;

export class Memo {
  private readonly open: { readonly table: object; readonly key: object }[] = [];
  /** Lowest level of an open question that the running answer had to do without. */
  private lowest = Infinity;
  /** Answers that hold until the open question of a level is settled. */
  private readonly provisional: { readonly level: number; readonly table: Table<unknown>; readonly key: object }[] = [];
  private steps = 0;
  /** Questions that were given up at a cap. */
  gaveUp = 0;

  once<V>(table: Table<V>, key: object, compute: () => V | undefined): V | undefined {
    const known = table.settled.get(key);
    if (known !== undefined || table.settled.has(key)) return known;
    const early = table.provisional.get(key);
    if (early !== undefined) {
      this.lowest = Math.min(this.lowest, early.level);
      return early.value;
    }
    const level = table.open.get(key);
    if (level !== undefined) {
      this.lowest = Math.min(this.lowest, level);
      return undefined;
    }
    if (this.open.length === 0) this.steps = 0;
    if (this.open.length >= DEPTH_CAP || ++this.steps > STEP_CAP) {
      this.gaveUp++;
      this.lowest = 0;
      return undefined;
    }
    return this.answer(table, key, compute);
  }

  private answer<V>(table: Table<V>, key: object, compute: () => V | undefined): V | undefined {
    const level = this.open.length;
    const outer = this.lowest;
    this.lowest = Infinity;
    this.open.push({ table, key });
    table.open.set(key, level);
    let value: V | undefined;
    try {
      value = compute();
    } finally {
      this.open.pop();
      table.open.delete(key);
    }
    const missed = this.lowest;
    while (this.provisional.length > 0 && this.provisional.at(-1)!.level >= level) {
      const { table: its, key: that } = this.provisional.pop()!;
      its.provisional.delete(that);
    }
    if (missed >= level) {
      table.settled.set(key, value);
      this.lowest = outer;
    } else {
      table.provisional.set(key, { value, level: missed });
      this.note(missed, table as Table<unknown>, key);
      this.lowest = Math.min(outer, missed);
    }
    return value;
  }

  /** Kept sorted by level, so that those of the innermost question stand last. */
  private note(level: number, table: Table<unknown>, key: object): void {
    let at = this.provisional.length;
    while (at > 0 && this.provisional[at - 1]!.level > level) at--;
    this.provisional.splice(at, 0, { level, table, key });
  }
}

/** The answers to one kind of question. */
export class Table<V> {
  readonly settled = new WeakMap<object, V | undefined>();
  readonly provisional = new Map<object, { readonly value: V | undefined; readonly level: number }>();
  readonly open = new Map<object, number>();
}
