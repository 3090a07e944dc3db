/**
 * Made expressions as TypeScript text, with the parentheses that precedence asks
 * for: also around copied pieces, whose own parentheses are no part of them.
 */
import type { Argument, Binary, BinaryOp, Call, Choose, Class, Expr, Field, Lambda, Literal, Template, Unary } from '../../ir/ir.js';
import { writeBlock } from './write-statements.js';
import { hasAccessors, memberName, typeParams, writeAccessors, writeFunction, writeMember, writeParams } from './write-declarations.js';
import { writeType } from './write-types.js';
import { inner, newLine, NotWritable, verbatim, type Writing } from './writing.js';

/** Binding strengths of the ECMAScript grammar, loosest first. */
export const BINDS = { comma: 0, assign: 1, conditional: 2, unary: 14, postfix: 15, call: 16, primary: 17 } as const;

export const STRENGTH: Readonly<Record<BinaryOp, number>> = {
  ',': 0, '??': 3, '||': 3, '&&': 4, '|': 5, '^': 6, '&': 7, '==': 8, '!=': 8, '<': 9, '<=': 9, '>': 9, '>=': 9, in: 9,
  '<<': 10, '>>': 10, '>>>': 10, '+': 11, '-': 11, '*': 12, '/': 12, '%': 12, '**': 13, '..': 10, '..<': 10,
};

/** As the operand of something that binds as strongly as `least`. */
export function writeExpr(w: Writing, node: Expr, least: number = BINDS.comma): string {
  const text = verbatim(w, node.span) ?? made(w, node);
  return strengthOf(node) < least ? `(${text})` : text;
}

/** As one of several values: an argument, an element, an initial value. */
export function writeValue(w: Writing, node: Expr): string {
  return writeExpr(w, node, BINDS.assign);
}

/** At the beginning of a statement or an arrow's body, where `{`, `function` and `class` would be read as something else. */
export function writeLeading(w: Writing, node: Expr): string {
  const text = writeExpr(w, node);
  return /^(\{|function\b|async function\b|class\b|let\s*\[)/.test(text) ? `(${text})` : text;
}

function strengthOf(node: Expr): number {
  switch (node.kind) {
    case 'Assign': return BINDS.assign;
    case 'Lambda': return BINDS.assign;
    case 'Emit': return BINDS.assign;
    case 'Choose': return BINDS.conditional;
    case 'Binary': return STRENGTH[node.op];
    case 'Is': return STRENGTH['<'];
    case 'Cast': return STRENGTH['<'];
    case 'Await': return BINDS.unary;
    case 'Unary': return node.op === '!!' ? BINDS.postfix : BINDS.unary;
    case 'Literal': return typeof node.value === 'number' && node.value < 0 ? BINDS.unary : BINDS.primary;
    case 'Unknown': return BINDS.comma;
    case 'Call': return BINDS.call;
    default: return BINDS.primary;
  }
}

function made(w: Writing, node: Expr): string {
  switch (node.kind) {
    case 'Literal': return writeLiteral(w, node);
    case 'Template': return writeTemplate(w, node);
    case 'Name': return node.name;
    case 'This': return node.of;
    case 'Member': return receiver(w, node.object) + (node.safe === undefined ? '.' : '?.') + node.name;
    case 'Index': return `${receiver(w, node.object)}${node.safe === undefined ? '' : '?.'}[${writeExpr(w, node.index)}]`;
    case 'Call': return writeCall(w, node);
    case 'Lambda': return writeLambda(w, node);
    case 'FnRef': return node.object === undefined ? node.name : `${receiver(w, node.object)}.${node.name}`;
    case 'ObjectExpr': return writeObject(w, node.body);
    case 'Assign': return writeAssign(w, node);
    case 'ListExpr': return `[${node.items.map((item) => writeValue(w, item)).join(', ')}]`;
    case 'Unary': return writeUnary(w, node);
    case 'Binary': return writeBinary(w, node);
    case 'Is': {
      const test = `${writeExpr(w, node.value, STRENGTH['<'])} instanceof ${writeType(w, node.type)}`;
      return node.not ? `!(${test})` : test;
    }
    case 'Choose': return writeChoose(w, node);
    case 'Await': return `await ${writeExpr(w, node.value, BINDS.unary)}`;
    case 'Emit': return `yield${node.all ? '*' : ''}${node.value === undefined ? '' : ` ${writeValue(w, node.value)}`}`;
    case 'Cast': return `${writeExpr(w, node.value, STRENGTH['<'])} as ${writeType(w, node.type)}`;
    case 'Leave': throw new NotWritable('way out in the place of a value');
    case 'Unknown': throw new NotWritable('text for what nobody has read');
  }
}

/** What stands before a dot, a bracket or parentheses. A number needs parentheses there as well. */
function receiver(w: Writing, node: Expr): string {
  const text = writeExpr(w, node, BINDS.postfix);
  return /^\d+$/.test(text) ? `(${text})` : text;
}

// ---- Literals -----------------------------------------------------------

export function writeString(w: Writing, value: string): string {
  const escaped = JSON.stringify(value).slice(1, -1);
  return w.style.quote === '"' ? `"${escaped}"` : `'${escaped.replace(/\\"/g, '"').replace(/'/g, "\\'")}'`;
}

function writeLiteral(w: Writing, { value, absent }: Literal): string {
  if (absent) return 'undefined';
  if (typeof value === 'string') return writeString(w, value);
  return typeof value === 'bigint' ? `${value}n` : String(value);
}

function writeTemplate(w: Writing, node: Template): string {
  const parts = node.parts.map((part) => {
    if (part.kind !== 'Literal' || typeof part.value !== 'string') return `\${${writeExpr(w, part)}}`;
    return verbatim(w, part.span) ?? part.value.replace(/[\\`]|\$(?=\{)/g, '\\$&');
  });
  return `\`${parts.join('')}\``;
}

// ---- Calls and functions ------------------------------------------------

function writeCall(w: Writing, node: Call): string {
  if (node.markup) throw new NotWritable('made markup');
  const types = node.typeArgs.length === 0 ? '' : `<${node.typeArgs.map((type) => writeType(w, type)).join(', ')}>`;
  const args = writeArguments(w, node.args);
  if (!node.construct) return receiver(w, node.callee) + (node.safe === undefined ? '' : '?.') + types + args;
  const callee = receiver(w, node.callee);
  return `new ${callee.includes('(') ? `(${callee})` : callee}${types}${args}`;
}

/** In parentheses. */
export function writeArguments(w: Writing, args: readonly Argument[]): string {
  return `(${args.map((arg) => (arg.spread ? '...' : '') + writeValue(w, arg.value)).join(', ')})`;
}

function writeLambda(w: Writing, { fn }: Lambda): string {
  if (fn.span.start >= 0) return verbatim(w, fn.span)!;
  if (fn.name !== undefined || fn.modifiers.has('generator')) return writeFunction(w, fn);
  const head = `${fn.modifiers.has('async') ? 'async ' : ''}${typeParams(fn.typeParams)}${writeParams(w, fn)} => `;
  const [only] = fn.body?.stmts ?? [];
  if (fn.body === undefined || only === undefined) return `${head}{}`;
  if (fn.body.stmts.length > 1 || only.kind !== 'Return' || !only.implicit || only.value === undefined) return head + writeBlock(w, fn.body);
  const text = writeLeading(w, only.value);
  return head + (strengthOf(only.value) < BINDS.assign ? `(${text})` : text);
}

/** On one line as long as it holds only values. */
function writeObject(w: Writing, body: Class): string {
  if (body.form === 'class') throw new NotWritable('made class expression');
  const within = inner(w);
  const values = body.fields.filter((field) => !hasAccessors(field));
  const isPlain = body.functions.length === 0 && values.length === body.fields.length;
  const at = isPlain ? w : within;
  const members = [
    ...body.spreads.map((spread) => `...${writeValue(at, spread)}`), ...values.map((field) => propertyText(at, field)),
    ...body.fields.flatMap((field) => writeAccessors(at, field)), ...body.functions.map((fn) => writeMember(at, fn)),
  ];
  if (members.length === 0) return '{}';
  if (isPlain) return `{ ${members.join(', ')} }`;
  return `{${members.map((member) => `${newLine(within)}${member},`).join('')}${newLine(w)}}`;
}

function propertyText(w: Writing, field: Field): string {
  const copied = verbatim(w, field.span);
  if (copied !== undefined) return copied;
  if (field.initial === undefined) throw new NotWritable('property without a value');
  if (field.initial.kind === 'Name' && field.initial.name === field.name) return field.name;
  return `${memberName(w, field.name)}: ${writeValue(w, field.initial)}`;
}

// ---- Operators ----------------------------------------------------------

function writeAssign(w: Writing, node: Extract<Expr, { kind: 'Assign' }>): string {
  const target = writeExpr(w, node.target, BINDS.call);
  const isStep = node.postfix && node.value.kind === 'Literal' && node.value.value === 1;
  if (isStep && (node.op === '+' || node.op === '-')) return target + node.op + node.op;
  return `${target} ${node.op ?? ''}= ${writeValue(w, node.value)}`;
}

function writeUnary(w: Writing, node: Unary): string {
  if (node.op === '!!') return `${writeExpr(w, node.value, BINDS.postfix)}!`;
  if (node.op === '...') return `...${writeValue(w, node.value)}`;
  const value = writeExpr(w, node.value, BINDS.unary);
  const isWord = /^\w/.test(node.op);
  return `${node.op}${isWord || value.startsWith(node.op) ? ' ' : ''}${value}`;
}

const SPELLED: Partial<Record<BinaryOp, string>> = { '==': '===', '!=': '!==' };

/** `a === null` is rarely what is meant: null and undefined are one in the model, so the loose sign is written for them. */
function writeBinary(w: Writing, node: Binary): string {
  const { op, left, right } = node;
  if (op === '..' || op === '..<') throw new NotWritable('range');
  const strength = STRENGTH[op];
  const isNullTest = [left, right].some((side) => side.kind === 'Literal' && side.value === null && !side.absent);
  const sign = isNullTest ? op : SPELLED[op] ?? op;
  const leftText = mixesWith(op, left) ? `(${writeExpr(w, left)})` : writeExpr(w, left, op === '**' ? BINDS.postfix : strength);
  const rightText = mixesWith(op, right) ? `(${writeExpr(w, right)})` : writeExpr(w, right, op === '**' ? strength : strength + 1);
  return op === ',' ? `${leftText}, ${rightText}` : `${leftText} ${sign} ${rightText}`;
}

/** The grammar forbids `??` beside `||` and `&&` without parentheses. */
function mixesWith(op: BinaryOp, side: Expr): boolean {
  if (side.kind !== 'Binary') return false;
  const isLogical = (it: BinaryOp): boolean => it === '||' || it === '&&';
  return (op === '??' && isLogical(side.op)) || (isLogical(op) && side.op === '??');
}

/** Only a branch of plain conditions, each arm of one value, is an expression here. */
function writeChoose(w: Writing, { branch }: Choose): string {
  if (branch.kind === 'Try' || branch.subject !== undefined) throw new NotWritable('try or switch in the place of a value');
  const texts = branch.arms.map((arm, i) => {
    const [only] = arm.body.stmts;
    if (arm.body.stmts.length !== 1 || only?.kind !== 'Yield') throw new NotWritable('branch with statements in the place of a value');
    const value = writeValue(w, only.value);
    if (arm.tests.length === 0) return value;
    if (arm.guard !== undefined) throw new NotWritable('guard');
    const tests = arm.tests.map((test) => {
      if (!('when' in test)) throw new NotWritable('test of a type or range in a branch');
      return writeExpr(w, test.when, arm.tests.length > 1 ? STRENGTH['||'] + 1 : BINDS.conditional + 1);
    });
    const isLast = i === branch.arms.length - 1;
    return `${tests.join(' || ')} ? ${value} : ${isLast ? 'undefined' : ''}`;
  });
  return texts.join('');
}

