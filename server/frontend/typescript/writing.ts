/**
 * What the parts of the writer share: the style, the text that pieces are copied
 * from, and the error for what TypeScript has no words for.
 */
import type { Span } from '../../ir/ir.js';
import { indented, type Style } from '../style.js';

export interface Writing {
  readonly style: Style;
  readonly source: string;
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

export function terminator(w: Writing): string {
  return w.style.semicolons ? ';' : '';
}

/** A made piece that only the other language can express. */
export class NotWritable extends Error {
  constructor(what: string) {
    super(`TypeScript has no ${what}`);
  }
}
