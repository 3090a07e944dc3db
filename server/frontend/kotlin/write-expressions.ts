/**
 * Made expressions as Kotlin text, with the parentheses that precedence asks for:
 * also around copied pieces, whose own parentheses are no part of them.
 */
import type { Assign, Binary, BinaryOp, Choose, Expr, Literal, Template, Unary } from '../../ir/ir.js';
import { writeCall, writeLambda } from './write-calls.js';
import { writeObject } from './write-declarations.js';
import { writeBranch, writeStmt, writeTry } from './write-statements.js';
import { writeType } from './write-types.js';
import { nameText, NotWritable, verbatim, type Writing } from './writing.js';

/** Binding strengths of the Kotlin grammar, loosest first. */
export const BINDS = { open: 0, check: 5, elvis: 6, infix: 7, cast: 11, prefix: 12, postfix: 13, primary: 14 } as const;

const STRENGTH: Readonly<Partial<Record<BinaryOp, number>>> = {
  '||': 1, '&&': 2, '==': 3, '!=': 3, '<': 4, '<=': 4, '>': 4, '>=': 4, in: BINDS.check, '??': BINDS.elvis,
  '<<': BINDS.infix, '>>': BINDS.infix, '>>>': BINDS.infix, '&': BINDS.infix, '|': BINDS.infix, '^': BINDS.infix,
  '..': 8, '..<': 8, '+': 9, '-': 9, '*': 10, '/': 10, '%': 10,
};

/** Operators that Kotlin spells otherwise. */
const SPELLED: Readonly<Partial<Record<BinaryOp, string>>> = {
  '??': '?:', '<<': 'shl', '>>': 'shr', '>>>': 'ushr', '&': 'and', '|': 'or', '^': 'xor',
};

/** As the operand of something that binds as strongly as `least`. */
export function writeExpr(w: Writing, node: Expr, least: number = BINDS.open): string {
  const text = verbatim(w, node.span) ?? made(w, node);
  return strengthOf(node) < least ? `(${text})` : text;
}

/** What stands before a dot, a bracket or parentheses. */
export function writeReceiver(w: Writing, node: Expr): string {
  return writeExpr(w, node, BINDS.postfix);
}

function strengthOf(node: Expr): number {
  switch (node.kind) {
    case 'Assign':
      return node.postfix ? BINDS.postfix : BINDS.prefix;
    case 'Choose':
    case 'Leave':
    case 'Unknown':
      return BINDS.open;
    case 'Binary': return STRENGTH[node.op] ?? BINDS.open;
    case 'Is': return BINDS.check;
    case 'Cast': return BINDS.cast;
    case 'Unary': return node.op === '!!' || node.op === '~' ? BINDS.postfix : BINDS.prefix;
    case 'Literal': return typeof node.value === 'number' && node.value < 0 ? BINDS.prefix : BINDS.primary;
    case 'Call': return node.infix ? BINDS.infix : BINDS.postfix;
    default: return BINDS.primary;
  }
}

function made(w: Writing, node: Expr): string {
  switch (node.kind) {
    case 'Literal': return writeLiteral(node);
    case 'Template': return writeTemplate(w, node);
    case 'Name': return nameText(node.name);
    case 'This': return node.of + (node.label === undefined ? '' : `@${node.label}`);
    case 'Member': {
      if (node.name === 'class' && node.safe === undefined) return `${writeReceiver(w, node.object)}::class`;
      return `${writeReceiver(w, node.object)}${node.safe === undefined ? '.' : '?.'}${nameText(node.name)}`;
    }
    case 'Index': {
      if (node.safe !== undefined) return `${writeReceiver(w, node.object)}?.get(${writeExpr(w, node.index)})`;
      const indices = node.index.kind === 'ListExpr' ? node.index.items : [node.index];
      return `${writeReceiver(w, node.object)}[${indices.map((index) => writeExpr(w, index)).join(', ')}]`;
    }
    case 'Call': return writeCall(w, node);
    case 'Lambda': return writeLambda(w, node);
    case 'FnRef': return `${node.object === undefined ? '' : writeReceiver(w, node.object)}::${nameText(node.name)}`;
    case 'ObjectExpr': return writeObject(w, node.body);
    case 'Assign': return writeStep(w, node);
    case 'ListExpr': {
      const items = node.items.map((item) => writeExpr(w, item)).join(', ');
      return w.annotation ? `[${items}]` : `listOf(${items})`;
    }
    case 'Unary': return writeUnary(w, node);
    case 'Binary': return writeBinary(w, node);
    case 'Is': return `${operandLeft(w, node.value, BINDS.check)} ${node.not ? '!is' : 'is'} ${writeType(w, node.type)}`;
    case 'Cast': return `${operandLeft(w, node.value, BINDS.cast)} ${node.safe ? 'as?' : 'as'} ${writeType(w, node.type)}`;
    case 'Choose': return writeChoose(w, node);
    case 'Leave': return writeStmt(w, node.by);
    case 'Await': throw new NotWritable('await');
    case 'Emit': throw new NotWritable('yield');
    case 'Unknown': throw new NotWritable('text for what nobody has read');
  }
}

// ---- Literals -----------------------------------------------------------

const ESCAPES: Readonly<Record<string, string>> = { '\n': '\\n', '\r': '\\r', '\t': '\\t', '\b': '\\b', '"': '\\"', '\\': '\\\\', $: '\\$' };

function escaped(value: string): string {
  return value.replace(/[\u0000-\u001f"\\$]/g, (char) => ESCAPES[char] ?? `\\u${char.charCodeAt(0).toString(16).padStart(4, '0')}`);
}

function writeLiteral({ value }: Literal): string {
  if (typeof value === 'string') return `"${escaped(value)}"`;
  if (typeof value === 'bigint') return value > 0x7fff_ffff_ffff_ffffn ? `${value}uL` : `${value}L`;
  return String(value).replace('e+', 'e');
}

function writeTemplate(w: Writing, node: Template): string {
  const pieces = node.parts.map((part, i) => {
    if (part.kind === 'Literal' && typeof part.value === 'string') return escaped(part.value);
    const next = node.parts[i + 1];
    const goesOn = next?.kind === 'Literal' && typeof next.value === 'string' && /^[\p{L}\p{Nd}_`]/u.test(next.value);
    return part.kind === 'Name' && !goesOn ? `$${nameText(part.name)}` : `\${${writeExpr(w, part)}}`;
  });
  return `"${pieces.join('')}"`;
}

// ---- Operators ----------------------------------------------------------

function writeUnary(w: Writing, { op, value }: Unary): string {
  switch (op) {
    case '!!': return `${writeReceiver(w, value)}!!`;
    case '~': return `${writeReceiver(w, value)}.inv()`;
    case '!': case '-': case '+': {
      const text = writeExpr(w, value, BINDS.prefix);
      // `--a` would be a step, and `!!a` is read well but badly.
      return text.startsWith(op) ? `${op}(${text})` : op + text;
    }
    default: throw new NotWritable(`operator ${op}`);
  }
}

function writeBinary(w: Writing, node: Binary): string {
  const strength = STRENGTH[node.op];
  if (strength === undefined) throw new NotWritable(`operator ${node.op}`);
  const left = operandLeft(w, node.left, strength);
  const right = isOpen(node.right) ? writeExpr(w, node.right) : writeExpr(w, node.right, strength + 1);
  const spaced = node.op !== '..' && node.op !== '..<';
  const sign = SPELLED[node.op] ?? node.op;
  return spaced ? `${left} ${sign} ${right}` : left + sign + right;
}

/** As the left operand, in parentheses too where its own end would take in what follows. */
export function operandLeft(w: Writing, node: Expr, least: number): string {
  const text = writeExpr(w, node, least);
  const takesMore = strengthOf(node) >= least && (endsOpen(node) || (node.kind === 'Cast' && least <= BINDS.cast));
  return takesMore ? `(${text})` : text;
}

/** `if`, `return` and their like reach as far to the right as they can. */
function isOpen(node: Expr): boolean {
  return node.kind === 'Choose' || node.kind === 'Leave';
}

function endsOpen(node: Expr): boolean {
  if (node.kind === 'Binary') return isOpen(node.right) || endsOpen(node.right);
  if (node.kind === 'Unary' && node.op !== '!!') return endsOpen(node.value);
  return isOpen(node);
}

/** As a value, an assignment can only be a step. */
function writeStep(w: Writing, node: Assign): string {
  const isOne = node.value.kind === 'Literal' && node.value.value === 1;
  if (!isOne || (node.op !== '+' && node.op !== '-')) throw new NotWritable('assignment in the place of a value');
  const sign = node.op + node.op;
  const target = writeReceiver(w, node.target);
  return node.postfix ? target + sign : sign + target;
}

function writeChoose(w: Writing, { branch }: Choose): string {
  return branch.kind === 'Try' ? writeTry(w, branch) : writeBranch(w, branch, 'value');
}
