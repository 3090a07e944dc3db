/** Faults of starts: the flag or status int that says whether the operation was accepted is lost. Kotlin. */
import type { AnyNode, Binary, Branch, Call, Expr, Fn, Unary } from '../../../server/ir/ir.js';
import type { Ground } from '../ground.js';
import { MARK, type Edit, type Place } from '../mutant.js';
import type { Operator } from './operator.js';

export const resultCheckDropped: Operator = {
  name: 'result-check-dropped', plants: '`if (!start()) …` becomes `start()`', language: 'kotlin', rule: 'start-result-unchecked',
  *plant(ground) {
    for (const answer of answers(ground)) {
      const edits = statementAlone(ground, answer);
      if (edits !== undefined) yield { edits, places: answer.places, level: answer.level };
    }
  },
};

export const resultTakenForTrue: Operator = {
  name: 'result-taken-for-true', plants: 'what was the value is now a statement, and the value is `true`', language: 'kotlin', rule: 'start-result-unchecked',
  *plant(ground) {
    for (const answer of answers(ground)) {
      const edit = followedByTrue(ground, answer);
      if (edit !== undefined) yield { edits: [edit], places: answer.places, level: answer.level };
    }
  },
};

/** An expression that is true when an operation was accepted. */
interface Answer {
  readonly expr: Expr;
  readonly call: Call;
  readonly places: readonly Place[];
  /** Of a flag that a function of the project hands on, the rule speaks as a hint: others may still read it. */
  readonly level: 'warning' | 'hint';
}

function* answers(ground: Ground): Iterable<Answer> {
  for (const call of ground.all('Call')) {
    const member = ground.memberOf(call);
    if (member === undefined) {
      const starts = startsOf(ground, call);
      if (starts.length > 0) yield { expr: call, call, places: starts, level: 'hint' };
    } else if (member.does?.includes('starts-operation') || member.does?.includes('subscribes')) {
      const places: Place[] = [];
      if (member.answer === 'accept-flag') yield { expr: call, call, places, level: 'warning' };
      const parent = ground.parent(call);
      if (member.answer === 'accept-status' && parent?.kind === 'Binary' && parent.op === '==') yield { expr: parent, call, places, level: 'warning' };
    }
  }
}

/** The operations whose flag a function of the project answers with; the rule may point there as well as at the call. */
export function startsOf(ground: Ground, call: Call): readonly Place[] {
  const { fns } = ground.resolver.calleeOf(call);
  if (fns.length === 0 || !fns.every((fn) => ground.resolver.resultOf(fn)?.name === 'boolean')) return [];
  const starts = fns.flatMap((fn) => ground.reached(fn)).filter((start) => ground.memberOf(start)!.does?.includes('starts-operation'));
  return starts.map((start) => ground.nameOf(start));
}

// ---- Dropping a check ---------------------------------------------------

/** `if (!x) …` becomes `x`; `if (a || !x) …` becomes `if (a) …` and then, or else, `x`. */
function statementAlone(ground: Ground, { expr, call }: Answer): readonly Edit[] | undefined {
  const not = ground.parent(expr);
  if (not?.kind !== 'Unary' || not.op !== '!') return undefined;
  const above = ground.parent(not);
  if (above?.kind === 'Branch') return isLoneIf(ground, above) ? [ground.replace(above, markedCopy(ground, expr, call))] : undefined;
  if (above?.kind !== 'Binary' || above.op !== '||' || above.right !== not) return undefined;
  const branch = ground.parent(above);
  return branch?.kind === 'Branch' && isLoneIf(ground, branch) ? afterFirst(ground, branch, above, markedCopy(ground, expr, call)) : undefined;
}

function afterFirst(ground: Ground, branch: Branch, or: Binary, start: string): readonly Edit[] {
  const indent = ground.indentOf(branch);
  const body = ground.slice(branch.arms[0]!.body);
  const isLeft = leaves(branch);
  const rest = isLeft ? `\n${indent}${start}` : ` else ${body.startsWith('{') ? `{\n${indent}    ${start}\n${indent}}` : start}`;
  return [ground.replace(branch, `if (${ground.slice(or.left)}) ${body}${rest}`)];
}

function leaves(branch: Branch): boolean {
  const last = branch.arms[0]!.body.stmts.at(-1);
  return last?.kind === 'Return' || last?.kind === 'Throw' || last?.kind === 'Jump';
}

/** An `if` that is a statement and has no else. */
function isLoneIf(ground: Ground, node: AnyNode): boolean {
  return node.kind === 'Branch' && node.arms.length === 1 && ground.slice(node).startsWith('if') && ground.parent(node)?.kind === 'Block';
}

// ---- Taking for true ----------------------------------------------------

function followedByTrue(ground: Ground, { expr, call }: Answer): Edit | undefined {
  const start = markedCopy(ground, expr, call);
  const parent = ground.parent(expr);
  if (parent?.kind === 'Unary' && parent.op === '!') return valueReplaced(ground, parent, start, 'false');
  if (parent?.kind === 'Binary' && parent.op === '&&' && parent.left === expr) return valueReplaced(ground, parent, start, ground.slice(parent.right));
  return valueReplaced(ground, expr, start, 'true');
}

/** Where `whole` is a function's, a lambda's or a branch's value: the start stands alone, and `value` after it is the value. */
function valueReplaced(ground: Ground, whole: Expr | Unary | Binary, start: string, value: string): Edit | undefined {
  const holder = ground.parent(whole);
  if (holder === undefined || (holder.kind !== 'Return' && holder.kind !== 'Yield')) return undefined;
  const fn = ground.program.enclosingFn(whole);
  if (holder.kind === 'Return' && holder.implicit && fn !== undefined && isExpressionBody(ground, fn, holder)) return blockBody(ground, fn, start, value);
  const returned = holder.kind === 'Return' && !holder.implicit ? `return ${value}` : value;
  if (ground.ownsLines(holder)) return ground.replace(holder, `${start}\n${ground.indentOf(holder)}${returned}`);
  // The arm of a `when` without braces gets some; a lambda on one line has them.
  const isArm = holder.kind === 'Yield' && !ground.slice(ground.parent(holder)!).startsWith('{');
  return ground.replace(holder, isArm ? `{ ${start}; ${returned} }` : `${start}; ${returned}`);
}

function isExpressionBody(ground: Ground, fn: Fn, value: AnyNode): boolean {
  return fn.name !== undefined && ground.parent(ground.parent(value)!) === fn;
}

/** `fun f() = start()` becomes `fun f(): Boolean { start(); return value }`. */
function blockBody(ground: Ground, fn: Fn, start: string, value: string): Edit {
  const path = ground.pathOf(fn);
  const head = fn.headSpan!;
  const indent = ground.indentOf(fn);
  const type = fn.result === undefined ? ': Boolean' : '';
  return { path, at: { start: head.end, end: fn.body!.span.end }, text: `${type} {\n${indent}    ${start}\n${indent}    return ${value}\n${indent}}` };
}

/** A mark before the name that a rule would point at, in a copy of a piece of source. */
export function markedCopy(ground: Ground, piece: AnyNode, call: Call): string {
  const name = ground.nameOf(call).at.start - piece.span.start;
  const text = ground.slice(piece);
  return text.slice(0, name) + MARK + text.slice(name);
}

