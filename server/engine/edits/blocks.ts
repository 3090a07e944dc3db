/**
 * The text of a block of statements: whether statements can be put into it as they are, or whether it has no braces and
 * has to get them first.
 */
import type { AnyNode, Block, Fn, Span, Stmt } from '../../ir/ir.js';
import { Refused, type Target, type TextEdit } from '../edits.js';
import { behindPrevious, indentOf, isFirstOnLine, isLastOnLine, lineEnd, nextVisible, startWithComments } from './text.js';

export type Shape =
  /** Braces, a lambda's inside, a module, or the statements of a case: one more statement fits in. */
  | { readonly is: 'list'; readonly inside: Span; readonly braces: boolean }
  /** One statement without braces: the arm of an `if`, the body of a loop. */
  | { readonly is: 'single' }
  /** `= value` or `=> value`: the body of a function. */
  | { readonly is: 'value'; readonly fn: Fn };

export function shapeOf(target: Target, block: Block): Shape {
  const { text, file } = target;
  const around = target.around(block);
  const [parent, grandparent] = around;
  if (parent?.kind === 'File') return { is: 'list', inside: block.span, braces: false };
  if (hasBraces(text, block)) return { is: 'list', inside: { start: block.span.start + 1, end: block.span.end - 1 }, braces: true };
  if (parent?.kind === 'Fn') {
    const isKotlinLambda = file.language === 'kotlin' && grandparent?.kind === 'Lambda' && text[block.span.end] === '}';
    if (isKotlinLambda) return { is: 'list', inside: block.span, braces: true };
    if (block.stmts.length === 1 && isImplicitReturn(block.stmts[0]!)) return { is: 'value', fn: parent };
    throw new Refused('the function has no body of its own');
  }
  if (parent?.kind === 'Branch' && text[behindPrevious(text, block.span.start) - 1] === ':') {
    // The arm of TypeScript's `a ? b : c` follows a colon as well, but is no list of statements.
    if (grandparent?.kind === 'Choose') throw new Refused('an operand of a conditional holds no statements');
    return { is: 'list', inside: block.span, braces: false };
  }
  return { is: 'single' };
}

/** A single statement may itself begin and end with braces, such as a lambda or an object: then it begins where the block does. */
function hasBraces(text: string, { span, stmts }: Block): boolean {
  if (text[span.start] !== '{' || text[span.end - 1] !== '}' || span.end - span.start < 2) return false;
  return stmts[0]?.span.start !== span.start;
}

function isImplicitReturn(stmt: Stmt): boolean {
  return stmt.kind === 'Return' && stmt.implicit === true;
}

// ---- Writing statements -------------------------------------------------

/** Each statement on a line of its own; the first without its indentation. */
export function lines(target: Target, stmts: readonly Stmt[], indent: string): string {
  return stmts.map((stmt) => statement(target, stmt, indent)).join(target.style.eol + indent);
}

/** A writer cannot know whether an assignment is a statement or a value. */
function statement({ write, terminator }: Target, stmt: Stmt, indent: string): string {
  return stmt.kind === 'Assign' ? write(stmt, indent) + terminator : write(stmt, indent);
}

/** On one line, or undefined where one of them needs several. */
export function oneLine(target: Target, stmts: readonly Stmt[]): string | undefined {
  const texts = stmts.map((stmt) => statement(target, stmt, '').replace(/;$/, ''));
  return texts.some((text) => text.includes('\n')) ? undefined : texts.join('; ');
}

/** Puts statements into a list beside one that stands in it. */
export function besideEdits(target: Target, inside: Span, braces: boolean, node: Stmt, where: 'before' | 'after', stmts: readonly Stmt[]): TextEdit[] {
  const { text, file, style } = target;
  const { start, end } = node.span;
  const isFree = where === 'before' ? isFirstOnLine(text, start) : isLastOnLine(text, end, file.comments);
  if (isFree) {
    const indent = indentOf(text, start);
    const written = indent + lines(target, stmts, indent);
    // A comment directly above a statement belongs to it (an acceptance must stay there), so what comes before goes above it.
    if (where === 'before') return [insertion(startWithComments(text, start, file.comments), written + style.eol)];
    return [insertion(lineEnd(text, end), style.eol + written)];
  }
  const joined = oneLine(target, stmts);
  if (joined !== undefined && where === 'before') return [insertion(start, `${joined}; `)];
  if (joined !== undefined) return [insertion(end, text[end - 1] === ';' ? ` ${joined};` : `; ${joined}`)];
  if (!braces) throw new Refused('a statement of several lines does not fit between others on one line');
  return spreadOut(target, inside, node, where, stmts);
}

/** `{ a(); b() }` has to become a block of several lines, so that a statement of several lines fits in. */
function spreadOut(target: Target, inside: Span, node: Stmt, where: 'before' | 'after', stmts: readonly Stmt[]): TextEdit[] {
  const { text, style } = target;
  const outer = indentOf(text, inside.start);
  const inner = outer + style.unit;
  const first = nextVisible(text, inside.start);
  const last = behindPrevious(text, inside.end);
  if (text.slice(inside.start, inside.end).includes('\n')) throw new Refused('the statement shares its lines with others');
  const written = lines(target, stmts, inner);
  const between = style.eol + inner;
  const head = where === 'before' && node.span.start === first ? between + written + between : between;
  const tail = where === 'after' && node.span.end === last ? between + written + style.eol + outer : style.eol + outer;
  const edits = [{ at: { start: inside.start, end: first }, text: head }, { at: { start: last, end: inside.end }, text: tail }];
  if (where === 'before' && node.span.start !== first) edits.push(insertion(node.span.start, written + between));
  if (where === 'after' && node.span.end !== last) edits.push(insertion(node.span.end, between + written));
  return edits;
}

export function insertion(at: number, text: string): TextEdit {
  return { at: { start: at, end: at }, text };
}

// ---- Giving braces ------------------------------------------------------

/** Braces around a single statement, with others before or after it; `value` is put before what has to be returned now. */
export function bracedEdits(
  target: Target, block: Block,
  put: { readonly before?: readonly Stmt[]; readonly after?: readonly Stmt[]; readonly value?: string; readonly dropSign?: true },
): TextEdit[] {
  const { from, inner, line, last } = bracesFor(target, block);
  const before = put.before === undefined ? '' : line + lines(target, put.before, inner);
  const after = put.after === undefined ? '' : line + lines(target, put.after, inner);
  // Kotlin's `=` goes where the brace comes, TypeScript's `=>` stays.
  const start = put.dropSign === true ? behindPrevious(target.text, from - 1) : from;
  return [
    { at: { start, end: block.span.start }, text: ` {${before}${line}${put.value ?? ''}` },
    insertion(block.span.end, after + last),
  ];
}

/** Braces with other statements in the place of the single one. */
export function bracedInstead(target: Target, block: Block, stmts: readonly Stmt[]): TextEdit[] {
  const { from, inner, line, last } = bracesFor(target, block);
  return [{ at: { start: from, end: block.span.end }, text: ` {${line}${lines(target, stmts, inner)}${last}` }];
}

function bracesFor({ text, file, style }: Target, block: Block): { from: number; inner: string; line: string; last: string } {
  const from = behindPrevious(text, block.span.start);
  if (file.comments.some((comment) => comment.end === from)) throw new Refused('a comment stands where the brace would go');
  const outer = indentOf(text, from);
  const inner = outer + style.unit;
  return { from, inner, line: style.eol + inner, last: `${style.eol}${outer}}` };
}

/** The block that a statement stands in. */
export function blockAround(target: Target, node: AnyNode): Block {
  const [parent] = target.around(node);
  if (parent?.kind !== 'Block') throw new Refused('the statement stands in no block');
  return parent;
}
