/** Made statements as Kotlin text, without a newline at their end. */
import type { Arm, Assign, Binding, Block, Branch, Catch, Let, Loop, Stmt, Test, Try } from '../../ir/ir.js';
import { MODIFIER_WORDS } from './cursor.js';
import { writeDeclaration } from './write-declarations.js';
import { BINDS, writeExpr } from './write-expressions.js';
import { writeType } from './write-types.js';
import { braced, nameText, NotWritable, verbatim, type Writing } from './writing.js';

export function writeStmt(w: Writing, node: Stmt): string {
  const copied = verbatim(w, node.span);
  if (copied !== undefined) return copied;
  switch (node.kind) {
    case 'Block': return writeInnerBlock(w, node);
    case 'Let': return writeLet(w, node);
    case 'Assign': return writeAssign(w, node);
    case 'ExprStmt': return writeExpr(w, node.expr);
    case 'Yield': return writeExpr(w, node.value);
    case 'Branch': return writeBranch(w, node, 'nothing');
    case 'Loop': return (node.label === undefined ? '' : `${node.label}@ `) + writeLoop(w, node);
    case 'Try': return writeTry(w, node);
    case 'Return': {
      if (node.implicit && node.value !== undefined) return writeExpr(w, node.value);
      return `return${labelText(node.label)}${node.value === undefined ? '' : ` ${writeExpr(w, node.value)}`}`;
    }
    case 'Throw': return `throw ${writeExpr(w, node.value)}`;
    case 'Jump': return node.to + labelText(node.label);
    case 'LocalDecl': return writeDeclaration(w, node.declaration);
  }
}

function labelText(label: string | undefined): string {
  return label === undefined ? '' : `@${label}`;
}

/** With its braces. */
export function writeBlock(w: Writing, block: Block): string {
  const copied = verbatim(w, block.span);
  if (copied?.startsWith('{')) return copied;
  return braced(w, (within) => block.stmts.map((stmt) => writeStmt(within, stmt)));
}

/** Bare braces would be a lambda that nobody calls. */
function writeInnerBlock(w: Writing, block: Block): string {
  const [only] = block.stmts;
  if (block.label !== undefined && only !== undefined && block.stmts.length === 1) return `${block.label}@ ${writeStmt(w, only)}`;
  return `${block.label === undefined ? '' : `${block.label}@ `}run ${writeBlock(w, block)}`;
}

// ---- Variables ----------------------------------------------------------

function writeLet(w: Writing, node: Let): string {
  const type = node.type === undefined ? '' : `: ${writeType(w, node.type)}`;
  const value = node.value === undefined ? '' : ` ${node.delegated ? 'by' : '='} ${writeExpr(w, node.value)}`;
  return `${node.mutable ? 'var' : 'val'} ${bindingsText(node.bindings)}${type}${value}`;
}

function bindingsText(bindings: readonly Binding[]): string {
  const [only] = bindings;
  if (only === undefined) return '_';
  return bindings.length === 1 && only.path.length === 0 ? nameText(only.name) : patternText(bindings);
}

/** `(a, _, b)`, by position; Kotlin knows no deeper patterns. */
export function patternText(bindings: readonly Binding[]): string {
  const parts: string[] = [];
  for (const { name, path, defaultValue, rest } of bindings) {
    const [position] = path;
    if (path.length !== 1 || typeof position !== 'number' || defaultValue !== undefined || rest) throw new NotWritable('pattern of this form');
    while (parts.length < position) parts.push('_');
    parts.push(nameText(name));
  }
  return `(${parts.join(', ')})`;
}

function writeAssign(w: Writing, node: Assign): string {
  if (node.postfix) return writeExpr(w, node);
  return `${writeExpr(w, node.target, BINDS.postfix)} ${node.op ?? ''}= ${writeExpr(w, node.value)}`;
}

// ---- Branches -----------------------------------------------------------

/** `want` tells whether each arm's value is taken: then an `if` may need no braces. */
export function writeBranch(w: Writing, node: Branch, want: 'value' | 'nothing'): string {
  const copied = verbatim(w, node.span);
  if (copied !== undefined) return copied;
  const plain = node.subject === undefined && node.arms.every((arm) => arm.guard === undefined && arm.tests.length <= 1);
  const elseIsLast = node.arms.every((arm, i) => arm.tests.length > 0 || (i > 0 && i === node.arms.length - 1));
  return plain && elseIsLast && node.arms.length > 0 ? writeIf(w, node, want) : writeWhen(w, node);
}

function writeIf(w: Writing, node: Branch, want: 'value' | 'nothing'): string {
  const values = want === 'value' ? node.arms.map((arm) => bareValue(w, arm)) : [];
  const short = values.length > 0 && values.every((value) => value !== undefined);
  return node.arms.map((arm, i) => {
    const body = short ? values[i]! : writeBlock(w, arm.body);
    const [test] = arm.tests;
    return test === undefined ? body : `if (${testText(w, test, false)}) ${body}`;
  }).join(' else ');
}

/**
 * The only value of an arm, if it may stand without braces: a lambda there would be read as a block, an `if` would go on
 * the chain, and a word such as `value` would modify a declaration on the next line.
 */
function bareValue(w: Writing, { body }: Arm): string | undefined {
  const [only] = body.stmts;
  if (body.stmts.length !== 1 || only?.kind !== 'Yield') return undefined;
  const text = writeExpr(w, only.value);
  return /^(\{|if\b)/.test(text) || MODIFIER_WORDS.has(text) ? undefined : text;
}

function writeWhen(w: Writing, node: Branch): string {
  const name = node.subjectName === undefined ? '' : `val ${nameText(node.subjectName)} = `;
  const subject = node.subject === undefined ? '' : ` (${name}${writeExpr(w, node.subject)})`;
  return `when${subject} ${braced(w, (within) => node.arms.map((arm) => writeArm(within, arm, node.subject !== undefined)))}`;
}

function writeArm(w: Writing, arm: Arm, hasSubject: boolean): string {
  if (arm.falls) throw new NotWritable('arm that falls through');
  const tests = arm.tests.length === 0 ? 'else' : arm.tests.map((test) => testText(w, test, hasSubject)).join(hasSubject ? ', ' : ' || ');
  const guard = arm.guard === undefined ? '' : ` if ${writeExpr(w, arm.guard)}`;
  return `${tests}${guard} -> ${bareStatement(w, arm) ?? writeBlock(w, arm.body)}`;
}

function bareStatement(w: Writing, { body }: Arm): string | undefined {
  const [only] = body.stmts;
  if (body.stmts.length !== 1 || only === undefined || only.kind === 'LocalDecl' || only.kind === 'Let') return undefined;
  const text = writeStmt(w, only);
  return text.startsWith('{') ? undefined : text;
}

function testText(w: Writing, test: Test, hasSubject: boolean): string {
  if ('when' in test) return writeExpr(w, test.when);
  if (!hasSubject) throw new NotWritable('test of nothing');
  const not = test.not ? '!' : '';
  return 'is' in test ? `${not}is ${writeType(w, test.is)}` : `${not}in ${writeExpr(w, test.in)}`;
}

// ---- Loops and try --------------------------------------------------------

function writeLoop(w: Writing, node: Loop): string {
  if (node.before !== undefined || node.step !== undefined) throw new NotWritable('loop with a step');
  const body = writeBlock(w, node.body);
  if (node.over !== undefined) {
    const { bindings, source, type, awaited, keys } = node.over;
    if (awaited || keys) throw new NotWritable('loop over keys or promises');
    return `for (${bindingsText(bindings)}${type === undefined ? '' : `: ${writeType(w, type)}`} in ${writeExpr(w, source)}) ${body}`;
  }
  const test = node.test === undefined ? 'true' : writeExpr(w, node.test);
  return node.testFirst ? `while (${test}) ${body}` : `do ${body} while (${test})`;
}

export function writeTry(w: Writing, node: Try): string {
  const copied = verbatim(w, node.span);
  if (copied !== undefined) return copied;
  const last = node.last === undefined ? '' : ` finally ${writeBlock(w, node.last)}`;
  return `try ${writeBlock(w, node.body)}${node.catches.map((caught) => writeCatch(w, caught)).join('')}${last}`;
}

/** Kotlin wants a name and a type where the other language has none. */
function writeCatch(w: Writing, { param, type, body }: Catch): string {
  return ` catch (${nameText(param ?? 'e')}: ${type === undefined ? 'Exception' : writeType(w, type)}) ${writeBlock(w, body)}`;
}

