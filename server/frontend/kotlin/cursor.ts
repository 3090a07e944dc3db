/**
 * The parser's place in the token stream, and what all its parts share: reading
 * and expecting tokens, the two modes that Kotlin's grammar hangs on (whether a
 * newline ends an expression, whether a `{` may be a trailing lambda), and the
 * record of what could not be read.
 */
import type { Span } from '../../ir/ir.js';
import { END, HOLE_NAME, IDENT, KEYWORD, LABEL, QUOTE_OPEN, SIGN, TEXT, type Tokens } from './lexer.js';
import type { Ident } from './tree.js';

/**
 * How deep expressions, types and classes may nest. Real code stays below 40;
 * the limit keeps any text within the call stack.
 */
const MAX_DEPTH = 120;

/** Words that are modifiers where a declaration follows, and plain names elsewhere. */
export const MODIFIER_WORDS: ReadonlySet<string> = new Set([
  'public', 'private', 'protected', 'internal', 'abstract', 'final', 'open', 'sealed', 'override', 'lateinit', 'const',
  'inline', 'noinline', 'crossinline', 'tailrec', 'suspend', 'external', 'operator', 'infix', 'data', 'inner', 'enum',
  'annotation', 'value', 'companion', 'expect', 'actual', 'vararg', 'reified', 'in', 'out',
]);

/** Keywords that begin a declaration. */
export const DECLARATION_KEYWORDS: ReadonlySet<string> = new Set(['class', 'interface', 'fun', 'val', 'var', 'object', 'typealias']);

interface Mark {
  readonly at: number;
  readonly emptyAt: number;
  readonly faults: number;
}

export class Cursor {
  at = 0;
  /** Inside parentheses and brackets a newline means nothing. */
  newlinesMatter = true;
  /** Off where a `{` belongs to what surrounds the expression, as after a supertype's `by`. */
  lambdasAllowed = true;
  /** A `.` or `?` token at which a receiver type has to end; -1 for none. */
  receiverEnd = -1;
  /** The first tokens of the functions around this place, for recovery. */
  readonly functions: number[] = [];
  /**
   * Where a `<` was tried as type arguments and was none: twice the index, plus one
   * where newlines matter. Without it, retries would double with each nesting.
   */
  readonly notTypeArguments = new Set<number>();

  private depth = 0;
  private emptyAt = -1;
  private lines: readonly number[] | undefined;
  private readonly faults: number[] = [];
  private readonly unreadable: Span[] = [];

  constructor(readonly tokens: Tokens) {}

  // ---- Looking ----------------------------------------------------------

  get kind(): number {
    return this.tokens.kinds[this.at] ?? END;
  }

  get value(): string {
    return this.tokens.values[this.at] ?? '';
  }

  kindAt(index: number): number {
    return this.tokens.kinds[index] ?? END;
  }

  valueAt(index: number): string {
    return this.tokens.values[index] ?? '';
  }

  startAt(index: number): number {
    return this.tokens.starts[index] ?? this.tokens.text.length;
  }

  endAt(index: number): number {
    return this.tokens.ends[index] ?? this.tokens.text.length;
  }

  /** The token here is that word or sign, not text that looks like it. */
  is(value: string): boolean {
    return this.isAt(this.at, value);
  }

  isAt(index: number, value: string): boolean {
    if (this.tokens.values[index] !== value) return false;
    const kind = this.tokens.kinds[index];
    return kind !== TEXT && kind !== HOLE_NAME && kind !== LABEL && kind !== QUOTE_OPEN;
  }

  isKeyword(value: string): boolean {
    return this.kind === KEYWORD && this.value === value;
  }

  isSign(value: string): boolean {
    return this.kind === SIGN && this.value === value;
  }

  /** A soft keyword where it may be one. */
  isWord(value: string): boolean {
    return this.kind === IDENT && this.value === value;
  }

  isModifierAt(index: number): boolean {
    return this.kindAt(index) === IDENT && MODIFIER_WORDS.has(this.valueAt(index));
  }

  isDeclarationKeywordAt(index: number): boolean {
    return this.kindAt(index) === KEYWORD && DECLARATION_KEYWORDS.has(this.valueAt(index));
  }

  isNewlineAt(index: number): boolean {
    return this.tokens.afterNewline[index] ?? false;
  }

  /** A newline stands before this token and ends the expression. */
  atNewline(): boolean {
    return this.newlinesMatter && this.isNewlineAt(this.at);
  }

  /** No space between the token before and this one. */
  touches(index: number): boolean {
    return index > 0 && this.startAt(index) === this.endAt(index - 1);
  }

  /** The token after the bracket that closes the one at `index`. */
  afterBracket(index: number): number {
    return this.tokens.partners.get(index) ?? this.tokens.kinds.length - 1;
  }

  /** How far the line on which that token begins is indented. */
  indentAt(index: number): number {
    const { text } = this.tokens;
    const start = this.startAt(index);
    const line = this.lineStarts()[this.lineOf(start)]!;
    let at = line;
    while (at < start && (text.charCodeAt(at) === 32 || text.charCodeAt(at) === 9)) at++;
    return at - line;
  }

  private lineEnd(offset: number): number {
    const next = this.lineStarts()[this.lineOf(offset) + 1];
    return next === undefined ? this.tokens.text.length : next - 1;
  }

  /** The number of the line that holds `offset`, by bisection. */
  private lineOf(offset: number): number {
    const starts = this.lineStarts();
    let low = 0;
    let high = starts.length - 1;
    while (low < high) {
      const middle = (low + high + 1) >> 1;
      if (starts[middle]! <= offset) low = middle;
      else high = middle - 1;
    }
    return low;
  }

  /** Lines matter to damaged text alone, so they are found when first asked for. */
  private lineStarts(): readonly number[] {
    if (this.lines) return this.lines;
    const starts = [0];
    const { text } = this.tokens;
    for (let at = text.indexOf('\n'); at >= 0; at = text.indexOf('\n', at + 1)) starts.push(at + 1);
    this.lines = starts;
    return starts;
  }

  textAt(index: number): string {
    return this.tokens.text.slice(this.startAt(index), this.endAt(index));
  }

  // ---- Taking -----------------------------------------------------------

  eat(value: string): boolean {
    if (!this.is(value)) return false;
    this.at++;
    return true;
  }

  /** Takes the token or records its absence. */
  expect(value: string): boolean {
    if (this.eat(value)) return true;
    this.fault();
    return false;
  }

  /** The identifier here, which the caller has seen. */
  ident(): Ident {
    const index = this.at++;
    return { name: unquoted(this.valueAt(index)), span: { start: this.startAt(index), end: this.endAt(index) } };
  }

  /** An identifier, or an empty one and a fault. */
  expectIdent(): Ident {
    if (this.kind === IDENT) return this.ident();
    this.fault();
    return { name: '', span: this.emptySpan() };
  }

  /** From the token at index `first` to the last one taken, or to the empty span that was put behind it. */
  spanFrom(first: number): Span {
    const start = this.startAt(first);
    if (this.at === first) return { start, end: start };
    return { start, end: this.emptyAt === this.at ? this.startAt(this.at) : this.endAt(this.at - 1) };
  }

  /** Where something is missing: before the token here. */
  emptySpan(): Span {
    this.emptyAt = this.at;
    const start = this.startAt(this.at);
    return { start, end: start };
  }

  // ---- Modes ------------------------------------------------------------

  /** Reads inside round or square brackets: newlines do not matter, lambdas are allowed. */
  inBrackets<T>(read: () => T): T {
    return this.inMode(false, true, read);
  }

  /** Reads inside braces: newlines matter, lambdas are allowed. */
  inBraces<T>(read: () => T): T {
    return this.inMode(true, true, read);
  }

  inMode<T>(newlinesMatter: boolean, lambdasAllowed: boolean, read: () => T): T {
    const before = { newlines: this.newlinesMatter, lambdas: this.lambdasAllowed, receiverEnd: this.receiverEnd };
    this.newlinesMatter = newlinesMatter;
    this.lambdasAllowed = lambdasAllowed;
    this.receiverEnd = -1;
    const result = read();
    this.newlinesMatter = before.newlines;
    this.lambdasAllowed = before.lambdas;
    this.receiverEnd = before.receiverEnd;
    return result;
  }

  /**
   * Reads one level deeper, or answers `tooDeep` at the limit, having stepped over
   * a bracketed group if one begins here.
   */
  deeper<T>(read: () => T, tooDeep: () => T): T {
    if (this.depth >= MAX_DEPTH) {
      this.fault();
      if (this.kind === SIGN && (this.value === '(' || this.value === '[' || this.value === '{')) this.at = this.afterBracket(this.at);
      return tooDeep();
    }
    this.depth++;
    const result = read();
    this.depth--;
    return result;
  }

  // ---- What could not be read --------------------------------------------

  /** Records that the text is not Kotlin here (or at the token `index`). */
  fault(index = this.at): void {
    this.faults.push(this.startAt(index));
  }

  get faultCount(): number {
    return this.faults.length;
  }

  /** This place, to come back to if an attempt fails. */
  mark(): Mark {
    return { at: this.at, emptyAt: this.emptyAt, faults: this.faults.length };
  }

  /** Gives an attempt up, with all that it recorded. */
  rewind(mark: Mark): void {
    this.at = mark.at;
    this.emptyAt = mark.emptyAt;
    this.faults.length = mark.faults;
  }

  /** Marks as unreadable everything from the token `first` to the faults recorded since `count`. */
  settleFaults(count: number, first: number): void {
    if (this.faults.length === count) return;
    const start = this.startAt(first);
    let end = start;
    for (let i = count; i < this.faults.length; i++) end = Math.max(end, this.lineEnd(this.faults[i]!));
    this.faults.length = count;
    this.unreadable.push({ start, end });
  }

  /** All that could not be read, in order and without overlap. */
  unreadableRanges(): readonly Span[] {
    return joined(this.unreadable);
  }
}

/** The ranges in order; those that touch or overlap become one. */
export function joined(ranges: readonly Span[]): readonly Span[] {
  const sorted = [...ranges].sort((a, b) => a.start - b.start);
  const out: Span[] = [];
  for (const range of sorted) {
    const last = out.at(-1);
    if (last && range.start <= last.end) out[out.length - 1] = { start: last.start, end: Math.max(last.end, range.end) };
    else out.push(range);
  }
  return out;
}

/** A name without the backticks around it. */
export function unquoted(name: string): string {
  return name.startsWith('`') && name.endsWith('`') && name.length > 1 ? name.slice(1, -1) : name;
}
