/** Made statements as TypeScript text, each with its terminator and without a newline at its end. */
import type { Arm, Binding, Block, Branch, Expr, Let, Loop, Stmt, Test, Try } from '../../ir/ir.js';
import { writeDeclaration } from './write-declarations.js';
import { BINDS, STRENGTH, writeExpr, writeLeading, writeValue } from './write-expressions.js';
import { writeType } from './write-types.js';
import { inner, newLine, NotWritable, terminator, verbatim, type Writing } from './writing.js';

/** The label that stands for a `switch` being left: written, it is the `switch` itself. */
const SWITCH = 'switch';

export function writeStmt(w: Writing, node: Stmt): string {
  const copied = verbatim(w, node.span);
  if (copied !== undefined) return node.kind === 'Assign' ? withTerminator(w, copied) : copied;
  switch (node.kind) {
    case 'Block': return node.label === SWITCH ? writeStmts(w, node.stmts) : labelled(node.label) + writeBlock(w, node);
    case 'Let': return ended(w, writeLet(w, node));
    case 'Assign': return ended(w, writeLeading(w, node));
    case 'ExprStmt': return ended(w, node.deliberate ? `void ${writeExpr(w, node.expr, BINDS.unary)}` : writeLeading(w, node.expr));
    case 'Branch': return node.subject === undefined ? writeIf(w, node) : writeSwitch(w, node, node.subject);
    case 'Loop': return labelled(node.label) + writeLoop(w, node);
    case 'Try': return writeTry(w, node);
    case 'Return': return ended(w, `return${node.value === undefined ? '' : ` ${writeExpr(w, node.value)}`}`);
    case 'Throw': return ended(w, `throw ${writeExpr(w, node.value)}`);
    case 'Jump': return ended(w, node.to + (node.label === undefined || node.label === SWITCH ? '' : ` ${node.label}`));
    case 'LocalDecl': return writeDeclaration(w, node.declaration, 'statement');
    case 'Yield': throw new NotWritable('value of an arm outside of a branch');
  }
}

/** Lines of statements, the first one not indented. */
export function writeStmts(w: Writing, stmts: readonly Stmt[]): string {
  return stmts.map((stmt) => writeStmt(w, stmt)).join(newLine(w));
}

/** With its braces. */
export function writeBlock(w: Writing, block: Block): string {
  const copied = verbatim(w, block.span);
  if (copied?.startsWith('{')) return copied;
  if (block.stmts.length === 0) return '{}';
  const within = inner(w);
  return `{${newLine(within)}${writeStmts(within, block.stmts)}${newLine(w)}}`;
}

/** Without semicolons, a line that begins like this would be read as going on from the one above. */
function ended(w: Writing, text: string): string {
  return w.style.semicolons ? `${text};` : text.replace(/^(?=[([`+\-/])/, ';');
}

function withTerminator(w: Writing, text: string): string {
  return text.endsWith(';') ? text : text + terminator(w);
}

function labelled(label: string | undefined): string {
  return label === undefined ? '' : `${label}: `;
}

// ---- Variables ----------------------------------------------------------

function writeLet(w: Writing, node: Let): string {
  if (node.exported && node.bindings[0]?.name === 'default' && node.value !== undefined) return `export default ${writeLeading(w, node.value)}`;
  const keyword = node.scoped ? 'using' : node.mutable ? 'let' : 'const';
  const type = node.type === undefined ? '' : `: ${writeType(w, node.type)}`;
  const value = node.value === undefined ? '' : ` = ${writeValue(w, node.value)}`;
  return `${node.exported ? 'export ' : ''}${keyword} ${writeBindings(w, node.bindings)}${type}${value}`;
}

/** Patterns are written one level deep: more a fix does not need. */
export function writeBindings(w: Writing, bindings: readonly Binding[]): string {
  const [only] = bindings;
  if (only !== undefined && bindings.length === 1 && only.path.length === 0) return only.name;
  const isList = bindings.every(({ path, rest }) => rest || typeof path[0] === 'number');
  const parts: string[] = [];
  for (const binding of bindings) {
    if (binding.path.length > 1) throw new NotWritable('nested pattern of its own making');
    const [step] = binding.path;
    const value = binding.defaultValue === undefined ? '' : ` = ${writeValue(w, binding.defaultValue)}`;
    if (typeof step === 'number') while (parts.length < step) parts.push('');
    const key = typeof step === 'string' && step !== binding.name ? `${step}: ` : '';
    parts.push((binding.rest ? '...' : key) + binding.name + value);
  }
  return isList ? `[${parts.join(', ')}]` : `{ ${parts.join(', ')} }`;
}

// ---- Branches and loops -------------------------------------------------

function writeIf(w: Writing, node: Branch): string {
  return node.arms.map((arm) => {
    const body = writeBlock(w, arm.body);
    return arm.tests.length === 0 ? body : `if (${conditionOf(w, arm)}) ${body}`;
  }).join(' else ');
}

function conditionOf(w: Writing, arm: Arm): string {
  const tests = arm.tests.map((test) => writeExpr(w, plainTest(test), arm.tests.length > 1 ? STRENGTH['||'] + 1 : BINDS.comma)).join(' || ');
  if (arm.guard === undefined) return tests;
  return `${arm.tests.length > 1 ? `(${tests})` : tests} && ${writeExpr(w, arm.guard, STRENGTH['&&'] + 1)}`;
}

function plainTest(test: Test): Expr {
  if (!('when' in test)) throw new NotWritable('test of a type or range in a branch');
  return test.when;
}

function writeSwitch(w: Writing, node: Branch, subject: Expr): string {
  const within = inner(w);
  const lines = node.arms.flatMap((arm) => {
    if (arm.guard !== undefined) throw new NotWritable('guard');
    const heads = arm.tests.length === 0 ? ['default:'] : arm.tests.map((test) => `case ${writeExpr(w, plainTest(test))}:`);
    const deep = inner(within);
    const last = arm.body.stmts.at(-1)?.kind;
    const leaves = last === 'Return' || last === 'Throw' || last === 'Jump' || arm.falls;
    const body = [...arm.body.stmts.map((stmt) => writeStmt(deep, stmt)), ...(leaves ? [] : [`break${terminator(w)}`])];
    return [...heads, ...body.map((line) => w.style.unit + line)];
  });
  return `switch (${writeExpr(w, subject)}) {${lines.map((line) => newLine(within) + line).join('')}${newLine(w)}}`;
}

function writeLoop(w: Writing, node: Loop): string {
  const body = writeBlock(w, node.body);
  if (node.over !== undefined) {
    const { bindings, source, awaited, keys } = node.over;
    return `for ${awaited ? 'await ' : ''}(const ${writeBindings(w, bindings)} ${keys ? 'in' : 'of'} ${writeValue(w, source)}) ${body}`;
  }
  const test = node.test === undefined ? '' : writeExpr(w, node.test);
  if (node.before !== undefined || node.step !== undefined) {
    return `for (${writeHeadPart(w, node.before)}; ${test}; ${writeHeadPart(w, node.step)}) ${body}`;
  }
  return node.testFirst ? `while (${test || 'true'}) ${body}` : `do ${body} while (${test || 'true'})${terminator(w)}`;
}

/** Declarations in a loop's head share their first one's keyword. */
function writeHeadPart(w: Writing, stmts: readonly Stmt[] = []): string {
  return stmts.map((stmt, i) => {
    const text = writeStmt(w, stmt).replace(/;$/, '');
    return i === 0 ? text : text.replace(/^(let|const) /, '');
  }).join(', ');
}

function writeTry(w: Writing, node: Try): string {
  const catches = node.catches.map(({ param, type, body }) => {
    const typed = type === undefined ? '' : `: ${writeType(w, type)}`;
    return ` catch ${param === undefined ? '' : `(${param}${typed}) `}${writeBlock(w, body)}`;
  });
  if (catches.length > 1) throw new NotWritable('second catch');
  return `try ${writeBlock(w, node.body)}${catches.join('')}${node.last === undefined ? '' : ` finally ${writeBlock(w, node.last)}`}`;
}
