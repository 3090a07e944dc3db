/** Where things stand in a text: lines, their indentation, what shares a line with what. Nothing here knows a model. */
import type { Span } from '../../ir/ir.js';

export function lineStart(text: string, offset: number): number {
  return text.lastIndexOf('\n', offset - 1) + 1;
}

/** The offset of the line's end mark, or of the text's end. */
export function lineEnd(text: string, offset: number): number {
  const end = text.indexOf('\n', offset);
  if (end < 0) return text.length;
  return text[end - 1] === '\r' && end - 1 >= offset ? end - 1 : end;
}

/** The offset at which the next line begins, or the text's end. */
export function nextLine(text: string, offset: number): number {
  const end = text.indexOf('\n', offset);
  return end < 0 ? text.length : end + 1;
}

/** The blanks that the line of an offset begins with. */
export function indentOf(text: string, offset: number): string {
  return /^[ \t]*/.exec(text.slice(lineStart(text, offset), lineEnd(text, offset)))![0];
}

export function isFirstOnLine(text: string, offset: number): boolean {
  return text.slice(lineStart(text, offset), offset).trim() === '';
}

/** Nothing but blanks, a semicolon and a comment follows on the line. */
export function isLastOnLine(text: string, offset: number, comments: readonly Span[]): boolean {
  return restOfLine(text, offset, comments) === '';
}

/** What follows on the line, without comments, blanks and a leading semicolon. */
function restOfLine(text: string, offset: number, comments: readonly Span[]): string {
  const end = lineEnd(text, offset);
  let rest = '';
  let from = offset;
  for (const comment of comments) {
    if (comment.start < offset || comment.start >= end) continue;
    rest += text.slice(from, comment.start);
    from = Math.min(comment.end, end);
  }
  return (rest + text.slice(from, end)).replace(/^\s*;?/, '').trim();
}

/** The offset behind the last character before `offset` that is neither blank nor line end. */
export function behindPrevious(text: string, offset: number): number {
  let at = offset;
  while (at > 0 && /\s/.test(text[at - 1]!)) at--;
  return at;
}

/** The offset of the first character from `offset` on that is neither blank nor line end. */
export function nextVisible(text: string, offset: number): number {
  let at = offset;
  while (at < text.length && /\s/.test(text[at]!)) at++;
  return at;
}

/** Start of the line that a thing's own comments begin on: those directly above it, on lines of their own. */
export function startWithComments(text: string, offset: number, comments: readonly Span[]): number {
  let start = lineStart(text, offset);
  for (let i = comments.length - 1; i >= 0; i--) {
    const comment = comments[i]!;
    if (comment.start >= start) continue;
    const isDirectlyAbove = text.slice(comment.end, start).trim() === '' && nextLine(text, comment.end) === start;
    if (!isDirectlyAbove || !isFirstOnLine(text, comment.start)) break;
    start = lineStart(text, comment.start);
  }
  return start;
}

/** Where `sign` stands from `offset` on, with nothing but blanks and comments before it; undefined where something else comes first. */
export function signAfter(text: string, offset: number, sign: string, comments: readonly Span[]): number | undefined {
  let at = offset;
  for (;;) {
    at = nextVisible(text, at);
    const comment = comments.find((span) => span.start <= at && at < span.end);
    if (comment === undefined) return text.startsWith(sign, at) ? at : undefined;
    at = comment.end;
  }
}
