/** Statements into a block, beside another or at its ends, and statements out of it. */
import type { Block, Declaration, Fn, Span, Stmt } from '../../ir/ir.js';
import { Refused, type Target, type TextEdit } from '../edits.js';
import { besideEdits, blockAround, bracedEdits, insertion, lines, shapeOf } from './blocks.js';
import { behindPrevious, indentOf, isFirstOnLine, isLastOnLine, lineStart, nextLine } from './text.js';

export function insertEdits(target: Target, where: 'before' | 'after', node: Stmt, stmts: readonly Stmt[]): TextEdit[] {
  if (where === 'after' && node.kind === 'Yield') throw new Refused('nothing comes after the value of an arm');
  if (where === 'after' && leaves(node)) throw new Refused('nothing runs after a statement that leaves');
  const block = blockAround(target, node);
  const shape = shapeOf(target, block);
  switch (shape.is) {
    case 'list': return besideEdits(target, shape.inside, shape.braces, node, where, stmts);
    case 'single': return bracedEdits(target, block, where === 'before' ? { before: stmts } : { after: stmts });
    case 'value':
      if (where === 'after') throw new Refused('nothing comes after the value of a function');
      return valueBodyEdits(target, shape.fn, block, stmts);
  }
}

export function bodyEdits(target: Target, where: 'first' | 'last', fn: Fn, stmts: readonly Stmt[]): TextEdit[] {
  const { body } = fn;
  if (body === undefined) throw new Refused('the function has no body');
  if (target.file.language === 'kotlin' && fn.name === 'constructor' && !target.text.startsWith('constructor', fn.nameSpan?.start ?? -1)) {
    throw new Refused('a primary constructor has no body of its own');
  }
  const shape = shapeOf(target, body);
  if (shape.is === 'value') {
    if (where === 'last') throw new Refused('nothing comes after the value of a function');
    return valueBodyEdits(target, fn, body, stmts);
  }
  if (shape.is === 'single') throw new Refused('the function has no body of its own');
  const [first] = body.stmts;
  const last = body.stmts.at(-1);
  if (first === undefined || last === undefined) return emptyBodyEdits(target, shape.inside, stmts);
  if (where === 'first') return besideEdits(target, shape.inside, shape.braces, first, 'before', stmts);
  return besideEdits(target, shape.inside, shape.braces, last, leaves(last) ? 'before' : 'after', stmts);
}

/** Nothing after it would ever run. */
function leaves(stmt: Stmt): boolean {
  return (stmt.kind === 'Return' && stmt.implicit !== true) || stmt.kind === 'Throw' || stmt.kind === 'Jump';
}

/** A body without statements; a comment in it stays, below what is put in. */
function emptyBodyEdits(target: Target, inside: Span, stmts: readonly Stmt[]): TextEdit[] {
  const { text, style } = target;
  const outer = indentOf(text, inside.start);
  const inner = outer + style.unit;
  const written = style.eol + inner + lines(target, stmts, inner);
  const isBlank = text.slice(inside.start, inside.end).trim() === '';
  if (isBlank) return [{ at: inside, text: written + style.eol + outer }];
  const isOnOneLine = !text.slice(inside.start, inside.end).includes('\n');
  return [insertion(inside.start, isOnOneLine ? written + style.eol + inner : written)];
}

/**
 * `= value` becomes a block that returns it. In Kotlin that needs the result's type in writing: a block without one
 * returns nothing.
 */
function valueBodyEdits(target: Target, fn: Fn, body: Block, stmts: readonly Stmt[]): TextEdit[] {
  const { text, file } = target;
  const behind = behindPrevious(text, body.span.start);
  if (file.language === 'typescript') {
    if (!text.endsWith('=>', behind)) throw new Refused('the value of the function stands in parentheses');
    const [head, tail] = bracedEdits(target, body, { before: stmts, value: 'return ' });
    return [head!, { ...tail!, text: target.terminator + tail!.text }];
  }
  if (fn.result === undefined || text[behind - 1] !== '=') throw new Refused('the type of the function’s value is not written down');
  return bracedEdits(target, body, { before: stmts, value: fn.result.name === 'void' ? '' : 'return ', dropSign: true });
}

/** The whole lines when the node has them to itself, a comment at the end included; else the node and the blanks beside it. */
export function removeEdits(target: Target, node: Stmt | Declaration): TextEdit[] {
  const { text, file } = target;
  const { start, end } = node.span;
  if (node.kind === 'Return' && node.implicit === true || node.kind === 'Yield') throw new Refused('a value cannot be taken away');
  const [parent] = target.around(node);
  if (parent?.kind === 'LocalDecl') return removeEdits(target, parent);
  if (parent?.kind === 'Block' && shapeOf(target, parent).is === 'single') return [{ at: node.span, text: '{}' }];
  if (isFirstOnLine(text, start) && isLastOnLine(text, end, file.comments)) {
    return [{ at: { start: lineStart(text, start), end: nextLine(text, end) }, text: '' }];
  }
  const behind = text[end] === ';' ? end + 1 : end;
  const next = /^[ \t]*/.exec(text.slice(behind))![0].length + behind;
  return [{ at: { start, end: next }, text: '' }];
}

