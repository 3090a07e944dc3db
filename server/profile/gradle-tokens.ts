/**
 * Cuts a Gradle build file, Groovy or Kotlin, into tokens, comments left out and strings kept whole. It is no parser of
 * either language: just enough for the few statements that `gradle.ts` looks for. Total; what it does not know is a token
 * of one character.
 */

export interface GradleToken {
  readonly kind: 'word' | 'number' | 'string' | 'mark' | 'newline';
  /** As written; for a string what stands between its quotes. */
  readonly text: string;
  /** UTF-16 code units, quotes included. */
  readonly start: number;
  readonly end: number;
  /** A string with a `$` in it: its value is not known here. */
  readonly hole?: true;
}

/** Marks of several characters that must not be taken apart. */
const MARKS = ['?:', '?.', '->', '==', '!=', '<=', '>=', '+=', '-=', '&&', '||', '!!', '::', '..'];

export function gradleTokens(text: string, language: 'groovy' | 'kotlin'): GradleToken[] {
  const tokens: GradleToken[] = [];
  let at = 0;
  const add = (kind: GradleToken['kind'], end: number, inner = text.slice(at, end), hole?: true): void => {
    tokens.push({ kind, text: inner, start: at, end, ...(hole === undefined ? {} : { hole }) });
    at = end;
  };
  while (at < text.length) {
    const rest = text.slice(at, at + 3);
    const character = rest.charAt(0);
    if (character === '\n') add('newline', at + 1);
    else if (/\s/.test(character)) at++;
    else if (rest.startsWith('//')) at = lineEnd(text, at);
    else if (rest.startsWith('/*')) at = commentEnd(text, at, language === 'kotlin');
    else if (character === '"' || character === "'") {
      const quote = rest === character.repeat(3) ? rest : character;
      const string = stringEnd(text, at + quote.length, quote);
      add('string', string.end, text.slice(at + quote.length, string.inner), string.hole ? true : undefined);
    } else if (language === 'groovy' && character === '/' && opensPattern(tokens.at(-1))) {
      const end = patternEnd(text, at);
      if (end === undefined) add('mark', at + 1);
      else add('string', end, text.slice(at + 1, end - 1), true);
    } else if (character === '`') {
      const close = text.indexOf('`', at + 1);
      if (close < 0 || close > lineEnd(text, at)) add('mark', at + 1);
      else add('word', close + 1, text.slice(at + 1, close));
    } else {
      const word = match(/[\p{L}_$][\p{L}\p{N}_$]*/uy, text, at);
      const number = match(/[0-9][0-9_]*(\.[0-9]+)?[a-zA-Z]?/y, text, at);
      if (word !== undefined) add('word', at + word.length);
      else if (number !== undefined) add('number', at + number.length);
      else add('mark', at + (MARKS.find((mark) => rest.startsWith(mark))?.length ?? 1));
    }
  }
  return tokens;
}

function match(pattern: RegExp, text: string, at: number): string | undefined {
  pattern.lastIndex = at;
  return pattern.exec(text)?.[0];
}

function lineEnd(text: string, at: number): number {
  const end = text.indexOf('\n', at);
  return end < 0 ? text.length : end;
}

/** Kotlin's block comments nest, Groovy's do not. An open one goes on to the end. */
function commentEnd(text: string, at: number, nests: boolean): number {
  const marks = /\/\*|\*\//g;
  marks.lastIndex = at + 2;
  let depth = 1;
  for (let found = marks.exec(text); found !== null; found = marks.exec(text)) {
    if (found[0] === '*/') depth--;
    else if (nests) depth++;
    if (depth === 0) return marks.lastIndex;
  }
  return text.length;
}

/**
 * `inner` is where the closing quote begins. A string in single or double quotes ends at the newline at the latest; one in
 * double quotes may have holes (`$name`, `${…}`), and quotes inside a hole do not end it.
 */
function stringEnd(text: string, from: number, quote: string): { readonly inner: number; readonly end: number; readonly hole: boolean } {
  const mayHole = quote.startsWith('"');
  let hole = false;
  let braces = 0;
  for (let at = from; at < text.length; at++) {
    const character = text[at];
    if (character === '\\') at++;
    else if (mayHole && character === '$') {
      hole = true;
      if (text[at + 1] === '{') {
        braces++;
        at++;
      }
    } else if (braces > 0 && character === '{') braces++;
    else if (braces > 0 && character === '}') braces--;
    else if (braces === 0 && text.startsWith(quote, at)) return { inner: at, end: at + quote.length, hole };
    else if (quote.length === 1 && character === '\n') return { inner: at, end: at, hole };
  }
  return { inner: text.length, end: text.length, hole };
}

/** Groovy's `/pattern/` can only stand where a value begins; elsewhere the stroke divides. */
function opensPattern(before: GradleToken | undefined): boolean {
  return before === undefined || before.kind === 'newline' || (before.kind === 'mark' && !/^[)\]}]$/.test(before.text));
}

/** The end of a pattern that closes on its line. */
function patternEnd(text: string, at: number): number | undefined {
  const found = match(/\/(?:[^/\\\n]|\\.)+\//y, text, at);
  return found === undefined ? undefined : at + found.length;
}
