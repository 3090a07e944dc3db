/**
 * What the parts of the writer share: the style, the text that pieces are copied
 * from, names, and the error for what Kotlin has no words for.
 */
import type { Span } from '../../ir/ir.js';
import { indented, type Style } from '../style.js';
import { isHardKeyword } from './lexer.js';

export interface Writing {
  readonly style: Style;
  readonly source: string;
  /** Inside an annotation, a list is written in square brackets. */
  readonly annotation?: true;
}

/** The very text of a piece that has a place, or undefined for a made one. */
export function verbatim(w: Writing, span: Span): string | undefined {
  return span.start < 0 ? undefined : w.source.slice(span.start, span.end);
}

/** One level of braces further in. */
export function inner(w: Writing): Writing {
  return { ...w, style: indented(w.style) };
}

/** A line break and the indentation of the current line. */
export function newLine(w: Writing): string {
  return w.style.eol + w.style.indent;
}

/** Lines between braces; `{}` for none. */
export function braced(w: Writing, lines: (within: Writing) => readonly string[]): string {
  const within = inner(w);
  const written = lines(within);
  if (written.length === 0) return '{}';
  return `{${written.map((line) => newLine(within) + line).join('')}${newLine(w)}}`;
}

/** A name, in backticks where it is none otherwise. */
export function nameText(name: string): string {
  return /^[\p{L}_][\p{L}\p{Nd}_]*$/u.test(name) && !isHardKeyword(name) ? name : `\`${name}\``;
}

/** A made piece that only the other language can express. */
export class NotWritable extends Error {
  constructor(what: string) {
    super(`Kotlin has no ${what}`);
  }
}
