/** Statements into a `try`. Their text stays; only the lines move one step to the right. */
import type { Stmt } from '../../ir/ir.js';
import { walk } from '../../ir/walk.js';
import { Refused, type Target, type TextEdit } from '../edits.js';
import type { Edit } from '../rule.js';
import { blockAround, insertion, lines } from './blocks.js';
import { removeEdits } from './statements.js';
import { indentOf, isFirstOnLine, isLastOnLine, lineEnd, lineStart, nextLine, startWithComments } from './text.js';

export function tryEdits(target: Target, { from, to, handler, last, without = [] }: Edit & { readonly do: 'try' }): TextEdit[] {
  const { text, style, file } = target;
  const block = blockAround(target, from);
  if (blockAround(target, to) !== block || to.span.end < from.span.end) throw new Refused('the statements stand in different blocks');
  if (!isFirstOnLine(text, from.span.start) || !isLastOnLine(text, to.span.end, file.comments)) throw new Refused('the statements share a line with others');
  const indent = indentOf(text, from.span.start);
  const start = startWithComments(text, from.span.start, file.comments);
  const end = lineEnd(text, to.span.end);
  const inner = indent + style.unit;
  const part = (head: string, stmts: readonly Stmt[]): string => `${head} {${style.eol}${inner}${lines(target, stmts, inner)}${style.eol}${indent}}`;
  const clauses = [...(handler ? [part(`catch (${handler.param}${file.language === 'kotlin' ? ': Exception' : ''})`, handler.body)] : []), ...(last ? [part('finally', last)] : [])];
  const fixed = new Set([...textLines(target, from, to), ...without.flatMap((stmt) => linesOf(text, stmt))]);
  const edits = [insertion(start, `${indent}try {${style.eol}`)];
  for (let at = start; at < end; at = nextLine(text, at)) {
    const isBlank = text.slice(at, lineEnd(text, at)).trim() === '';
    if (!isBlank && !fixed.has(at)) edits.push(insertion(at, style.unit));
    if (nextLine(text, at) <= at) break;
  }
  edits.push(insertion(end, `${style.eol}${indent}} ${clauses.join(' ')}`));
  return [...edits, ...without.flatMap((stmt) => removeEdits(target, stmt))];
}

function linesOf(text: string, { span }: Stmt): number[] {
  const found: number[] = [];
  for (let at = lineStart(text, span.start); at < span.end; at = nextLine(text, at)) found.push(at);
  return found;
}

/** Starts of lines that lie within a text of several lines, whose blanks are part of the text. */
function textLines({ text, file }: Target, from: Stmt, to: Stmt): ReadonlySet<number> {
  const found = new Set<number>();
  walk(file, (node) => {
    if ((node.kind !== 'Template' && node.kind !== 'Literal') || node.span.end <= from.span.start || node.span.start >= to.span.end) return;
    for (let at = nextLine(text, node.span.start); at > lineStart(text, node.span.start) && at < node.span.end; at = nextLine(text, at)) found.add(at);
  });
  return found;
}
