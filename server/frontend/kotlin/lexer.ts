/**
 * Kotlin text to tokens, comments aside. It knows nothing of grammar beyond what
 * strings need: a string literal is split into its text and its holes, so that
 * the parser meets the code inside `${…}` as ordinary tokens.
 *
 * Any text gives tokens: a string that is not closed ends at its line, a comment
 * that is not closed ends with the file, and a stray character is a token.
 */
import type { Span } from '../../ir/ir.js';

/** End of the text. */
export const END = 0;
/** An identifier or a soft keyword; a quoted one keeps its backticks in the value. */
export const IDENT = 1;
/** A hard keyword. `return@x` and its kin are one token whose value is the keyword alone. */
export const KEYWORD = 2;
export const NUMBER = 3;
export const CHAR = 4;
/** The quote that opens a string, its `$` prefix included. */
export const QUOTE_OPEN = 5;
/** Literal text inside a string. */
export const TEXT = 6;
/** `$name` inside a string; the value is the name. */
export const HOLE_NAME = 7;
/** `${` and the `}` that closes it. */
export const HOLE_OPEN = 8;
export const HOLE_CLOSE = 9;
/** The quote that closes a string; empty where the string was not closed. */
export const QUOTE_CLOSE = 10;
/** An operator, a bracket or any other sign. */
export const SIGN = 11;
/** `name@` before an expression; the value is the name. */
export const LABEL = 12;

const HARD_KEYWORDS = new Set([
  'as', 'break', 'class', 'continue', 'do', 'else', 'false', 'for', 'fun', 'if', 'in', 'interface', 'is', 'null', 'object',
  'package', 'return', 'super', 'this', 'throw', 'true', 'try', 'typealias', 'val', 'var', 'when', 'while',
]);

/** A word that can be a name only in backticks. */
export function isHardKeyword(word: string): boolean {
  return HARD_KEYWORDS.has(word);
}

/** Keywords that carry their label with them: `return@launch`, `this@Outer`. */
const LABEL_TAKERS = new Set(['return', 'break', 'continue', 'this', 'super']);

const LONG_SIGNS = [
  '===', '!==', '..<', '?.', '?:', '!!', '::', '->', '==', '!=', '<=', '>=', '&&', '||', '+=', '-=', '*=', '/=', '%=', '++',
  '--', '..',
];

/** The signs of several characters by their first one, the longest first. */
const SIGNS_BY_FIRST = new Map<number, string[]>();
for (const sign of LONG_SIGNS) {
  const first = sign.charCodeAt(0);
  SIGNS_BY_FIRST.set(first, [...(SIGNS_BY_FIRST.get(first) ?? []), sign]);
}

/** Tokens as parallel arrays: a file has tens of thousands, and the parser reads them by index. */
export interface Tokens {
  readonly text: string;
  readonly kinds: readonly number[];
  readonly starts: readonly number[];
  readonly ends: readonly number[];
  /** The word or sign; empty for literals. */
  readonly values: readonly string[];
  /** Whether a line ends between the token before and this one. */
  readonly afterNewline: readonly boolean[];
  /** For an opening bracket, the index of the token after its partner (of `END` if it has none). */
  readonly partners: ReadonlyMap<number, number>;
  /** Some `{` is never closed, or some `}` closes nothing: then the braces alone do not tell the structure. */
  readonly unclosedBrace: boolean;
  readonly unopenedBrace: boolean;
  readonly comments: readonly Span[];
}

const NEWLINE = 10, RETURN = 13, QUOTE = 34, DOLLAR = 36, APOSTROPHE = 39, STAR = 42, PLUS = 43, MINUS = 45, DOT = 46;
const SLASH = 47, COLON = 58, QUESTION = 63, AT = 64, BACKSLASH = 92, BACKTICK = 96, OPEN_BRACE = 123, CLOSE_BRACE = 125;
const BANG = 33, ZERO = 48, UNDERSCORE = 95;

const isDigit = (c: number): boolean => c >= 48 && c <= 57;

function isLetter(c: number): boolean {
  return (c >= 97 && c <= 122) || (c >= 65 && c <= 90) || c === UNDERSCORE
    || (c > 127 && /[\p{L}\p{Nl}]/u.test(String.fromCharCode(c)));
}

function isWordPart(c: number): boolean {
  return isLetter(c) || isDigit(c) || (c > 127 && /\p{Nd}/u.test(String.fromCharCode(c)));
}

/** Where the lexer stands inside strings and their holes. */
interface Mode {
  readonly of: 'line' | 'raw' | 'hole';
  /** How many `$` open a hole in this string. */
  readonly dollars: number;
  /** Braces open inside a hole. */
  braces: number;
}

export function lex(text: string): Tokens {
  return new Lexer(text).run();
}

class Lexer {
  private at = 0;
  private newline = false;
  private readonly length: number;
  private readonly modes: Mode[] = [];
  private readonly kinds: number[] = [];
  private readonly starts: number[] = [];
  private readonly ends: number[] = [];
  private readonly values: string[] = [];
  private readonly afterNewline: boolean[] = [];
  private readonly comments: Span[] = [];
  private readonly partners = new Map<number, number>();
  private readonly open: number[] = [];
  private openBraces = 0;
  private unopenedBrace = false;

  constructor(private readonly text: string) {
    this.length = text.length;
  }

  run(): Tokens {
    if (this.text.startsWith('#!')) this.skipLine();
    while (this.at < this.length) {
      const mode = this.modes.at(-1);
      if (mode && mode.of !== 'hole') this.stringPiece(mode);
      else this.token(mode);
    }
    // A string that the file ends in is closed there, so that the parser always meets a closing token.
    for (let mode = this.modes.pop(); mode; mode = this.modes.pop()) {
      if (mode.of !== 'hole') this.push(QUOTE_CLOSE, this.length, this.length, '');
    }
    this.push(END, this.length, this.length, '');
    for (const opener of this.open) this.partners.set(opener, this.kinds.length - 1);
    const { text, kinds, starts, ends, values, afterNewline, partners, comments, unopenedBrace } = this;
    const unclosedBrace = this.openBraces > 0;
    return { text, kinds, starts, ends, values, afterNewline, partners, unclosedBrace, unopenedBrace, comments };
  }

  private code(offset = 0): number {
    return this.text.charCodeAt(this.at + offset);
  }

  private push(kind: number, start: number, end: number, value: string): void {
    this.kinds.push(kind);
    this.starts.push(start);
    this.ends.push(end);
    this.values.push(value);
    this.afterNewline.push(this.newline);
    this.newline = false;
  }

  // ---- Code -----------------------------------------------------------

  private token(hole: Mode | undefined): void {
    const c = this.code();
    if (c === NEWLINE || c === RETURN) { this.newline = true; this.at++; return; }
    if (c === 32 || c === 9 || c === 12 || c === 0xfeff || c === 0xa0) { this.at++; return; }
    if (isLetter(c)) return this.word();
    if (c === SLASH && (this.code(1) === SLASH || this.code(1) === STAR)) return this.comment();
    if (isDigit(c) || (c === DOT && isDigit(this.code(1)))) return this.number();
    if (c === QUOTE || (c === DOLLAR && this.dollarsBeforeQuote() > 0)) return this.openString();
    if (c === APOSTROPHE) return this.char();
    if (c === BACKTICK) return this.quotedName();
    this.sign(c, hole);
  }

  private skipLine(): void {
    while (this.at < this.length && this.code() !== NEWLINE) this.at++;
  }

  private comment(): void {
    const start = this.at;
    if (this.code(1) === SLASH) this.skipLine();
    else this.blockComment();
    const end = this.text.charCodeAt(this.at - 1) === RETURN && this.text.charCodeAt(start + 1) === SLASH ? this.at - 1 : this.at;
    this.comments.push({ start, end });
  }

  /** Kotlin's block comments nest. */
  private blockComment(): void {
    let depth = 1;
    this.at += 2;
    while (this.at < this.length && depth > 0) {
      const c = this.code();
      if (c === SLASH && this.code(1) === STAR) { depth++; this.at += 2; }
      else if (c === STAR && this.code(1) === SLASH) { depth--; this.at += 2; }
      else { if (c === NEWLINE) this.newline = true; this.at++; }
    }
    this.at = Math.min(this.at, this.length);
  }

  private word(): void {
    const start = this.at;
    this.skipWord();
    const word = this.text.slice(start, this.at);
    if (!HARD_KEYWORDS.has(word)) {
      if (this.code() !== AT) return this.push(IDENT, start, this.at, word);
      this.at++;
      return this.push(LABEL, start, this.at, word);
    }
    // `as?` is one operator, but not where the `?` belongs to a following `?.` or `?:`.
    if (word === 'as' && this.code() === QUESTION && this.code(1) !== DOT && this.code(1) !== COLON) {
      this.at++;
      return this.push(SIGN, start, this.at, 'as?');
    }
    if (LABEL_TAKERS.has(word) && this.code() === AT) this.skipLabel();
    this.push(KEYWORD, start, this.at, word);
  }

  private skipWord(): void {
    while (this.at < this.length && isWordPart(this.code())) this.at++;
  }

  private skipLabel(): void {
    if (isLetter(this.code(1))) {
      this.at++;
      this.skipWord();
    } else if (this.code(1) === BACKTICK) {
      const close = this.closingBacktick(this.at + 1);
      if (close > 0) this.at = close + 1;
    }
  }

  /** The offset of the backtick that closes the one at `start` on its line, or -1. */
  private closingBacktick(start: number): number {
    for (let i = start + 1; i < this.length; i++) {
      const c = this.text.charCodeAt(i);
      if (c === BACKTICK) return i;
      if (c === NEWLINE) return -1;
    }
    return -1;
  }

  private quotedName(): void {
    const start = this.at;
    const close = this.closingBacktick(start);
    this.at = close > 0 ? close + 1 : start + 1;
    this.push(close > 0 ? IDENT : SIGN, start, this.at, this.text.slice(start, this.at));
  }

  private number(): void {
    const start = this.at;
    const second = this.code(1) | 32;
    if (this.code() === ZERO && (second === 120 || second === 98)) {
      this.at += 2;
      while (this.at < this.length && /[0-9a-fA-F_]/.test(this.text[this.at] ?? '')) this.at++;
    } else {
      this.skipDigits();
      if (this.code() === DOT && isDigit(this.code(1))) { this.at++; this.skipDigits(); }
      if ((this.code() | 32) === 101) this.skipExponent();
    }
    while (this.at < this.length && /[uUlLfF]/.test(this.text[this.at] ?? '')) this.at++;
    this.push(NUMBER, start, this.at, '');
  }

  private skipDigits(): void {
    while (isDigit(this.code()) || this.code() === UNDERSCORE) this.at++;
  }

  private skipExponent(): void {
    const signed = this.code(1) === PLUS || this.code(1) === MINUS;
    if (!isDigit(this.code(signed ? 2 : 1))) return;
    this.at += signed ? 2 : 1;
    this.skipDigits();
  }

  private char(): void {
    const start = this.at;
    this.at++;
    while (this.at < this.length && this.code() !== APOSTROPHE && this.code() !== NEWLINE) this.at += this.code() === BACKSLASH ? 2 : 1;
    if (this.code() === APOSTROPHE) this.at++;
    this.at = Math.min(this.at, this.length);
    this.push(CHAR, start, this.at, '');
  }

  private sign(first: number, hole: Mode | undefined): void {
    const start = this.at;
    const negated = first === BANG ? this.negatedWord() : undefined;
    let sign = negated ?? SIGNS_BY_FIRST.get(first)?.find((s) => this.text.startsWith(s, start));
    // `a?::b` is a reference on a nullable type, not an elvis operator.
    if (sign === '?:' && this.code(2) === COLON) sign = '?';
    sign ??= this.text.charAt(start);
    this.at += sign.length;
    if (first === OPEN_BRACE) this.openBraces++;
    else if (first === CLOSE_BRACE && !(hole && hole.braces === 0)) this.closeBrace();
    if (hole && first === OPEN_BRACE) hole.braces++;
    if (hole && first === CLOSE_BRACE) {
      if (hole.braces === 0) {
        this.modes.pop();
        this.closeBracket();
        return this.push(HOLE_CLOSE, start, this.at, '}');
      }
      hole.braces--;
    }
    if (sign === '(' || sign === '[' || sign === '{') this.open.push(this.kinds.length);
    else if (sign === ')' || sign === ']' || sign === '}') this.closeBracket();
    this.push(SIGN, start, this.at, sign);
  }

  /** `!in` and `!is`, but not `!inside`. */
  private negatedWord(): string | undefined {
    const word = this.text.slice(this.at, this.at + 3);
    return (word === '!in' || word === '!is') && !isWordPart(this.code(3)) ? word : undefined;
  }

  private closeBrace(): void {
    if (this.openBraces === 0) this.unopenedBrace = true;
    else this.openBraces--;
  }

  /** Brackets of every sort close the last open one: in damaged text that keeps the pairs near each other. */
  private closeBracket(): void {
    const opener = this.open.pop();
    if (opener !== undefined) this.partners.set(opener, this.kinds.length + 1);
  }

  // ---- Strings --------------------------------------------------------

  /** How many `$` stand before a quote here (`$$"…"`); 0 if it is something else. */
  private dollarsBeforeQuote(): number {
    let count = 0;
    while (this.code(count) === DOLLAR) count++;
    return this.code(count) === QUOTE ? count : 0;
  }

  private openString(): void {
    const start = this.at;
    const dollars = this.dollarsBeforeQuote();
    this.at += dollars;
    const raw = this.text.startsWith('"""', this.at);
    this.at += raw ? 3 : 1;
    this.push(QUOTE_OPEN, start, this.at, raw ? '"""' : '"');
    this.modes.push({ of: raw ? 'raw' : 'line', dollars: Math.max(dollars, 1), braces: 0 });
  }

  /** Reads text up to and including the next hole or the end of the string. */
  private stringPiece(mode: Mode): void {
    const start = this.at;
    while (this.at < this.length) {
      const c = this.code();
      if (mode.of === 'line' ? c === QUOTE || c === NEWLINE : c === QUOTE && this.text.startsWith('"""', this.at)) {
        return this.closeString(start, mode);
      }
      if (mode.of === 'line' && c === BACKSLASH && this.code(1) !== NEWLINE) this.at += 2;
      else if (c !== DOLLAR) this.at++;
      else if (this.hole(start, mode)) return;
    }
    this.at = this.length;
    this.pushText(start, this.length);
  }

  private pushText(start: number, end: number): void {
    if (end > start) this.push(TEXT, start, end, '');
  }

  private closeString(textStart: number, mode: Mode): void {
    this.modes.pop();
    if (mode.of === 'line') {
      this.pushText(textStart, this.at);
      const width = this.code() === QUOTE ? 1 : 0;
      this.push(QUOTE_CLOSE, this.at, this.at + width, '');
      this.at += width;
      return;
    }
    // Of more than three quotes the last three close; the others are text.
    let end = this.at;
    while (this.text.charCodeAt(end) === QUOTE) end++;
    this.pushText(textStart, end - 3);
    this.push(QUOTE_CLOSE, end - 3, end, '');
    this.at = end;
  }

  /** At a `$`: pushes the text before and the hole, or steps over dollars that open none. */
  private hole(textStart: number, mode: Mode): boolean {
    let after = this.at;
    while (this.text.charCodeAt(after) === DOLLAR) after++;
    const open = after - mode.dollars;
    const next = this.text.charCodeAt(after);
    const quoted = next === BACKTICK ? this.closingBacktick(after) : -1;
    if (open < this.at || !(next === OPEN_BRACE || isLetter(next) || quoted > 0)) {
      this.at = after;
      return false;
    }
    this.pushText(textStart, open);
    if (next === OPEN_BRACE) {
      this.at = after + 1;
      this.open.push(this.kinds.length);
      this.push(HOLE_OPEN, open, this.at, '${');
      this.modes.push({ of: 'hole', dollars: 0, braces: 0 });
    } else {
      this.at = after;
      if (quoted > 0) this.at = quoted + 1;
      else this.skipWord();
      this.push(HOLE_NAME, open, this.at, this.text.slice(after, this.at));
    }
    return true;
  }
}
