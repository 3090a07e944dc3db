/** Made calls, their arguments, and lambdas as Kotlin text. */
import type { Argument, Call, Fn, Lambda, Param } from '../../ir/ir.js';
import { BINDS, operandLeft, writeExpr, writeReceiver } from './write-expressions.js';
import { writeFunction } from './write-declarations.js';
import { patternText, writeStmt } from './write-statements.js';
import { writeType, writeTypeArgs } from './write-types.js';
import { inner, nameText, newLine, NotWritable, verbatim, type Writing } from './writing.js';

export function writeCall(w: Writing, node: Call): string {
  if (node.markup) throw new NotWritable('markup');
  if (node.infix) return writeInfix(w, node);
  const trailing = node.args.filter((arg) => arg.trailing);
  const plain = node.args.filter((arg) => !arg.trailing);
  const callee = writeReceiver(w, node.callee) + (node.safe === undefined ? '' : '?.invoke') + writeTypeArgs(w, node.typeArgs);
  const args = plain.length > 0 || trailing.length === 0 ? writeArgs(w, plain) : '';
  return callee + args + trailing.map((arg) => ` ${writeExpr(w, arg.value)}`).join('');
}

function writeInfix(w: Writing, { callee, args }: Call): string {
  const [only] = args;
  if (callee.kind !== 'Member' || only === undefined || args.length > 1) throw new NotWritable('infix call of this form');
  return `${operandLeft(w, callee.object, BINDS.infix)} ${nameText(callee.name)} ${writeExpr(w, only.value, BINDS.infix + 1)}`;
}

/** In parentheses. */
export function writeArgs(w: Writing, args: readonly Argument[]): string {
  return `(${args.map((arg) => writeArg(w, arg)).join(', ')})`;
}

function writeArg(w: Writing, { name, spread, value }: Argument): string {
  return (name === undefined ? '' : `${nameText(name)} = `) + (spread ? '*' : '') + writeExpr(w, value);
}

/** A function that has a head in the source was an anonymous `fun`, in which `return` means something else. */
export function writeLambda(w: Writing, { fn, label }: Lambda): string {
  const copied = verbatim(w, fn.span);
  if (copied !== undefined) return copied;
  if (fn.headSpan !== undefined) return writeFunction(w, fn);
  const mark = label === undefined ? '' : `${label}@`;
  const params = paramsText(w, fn);
  const within = inner(w);
  const lines = (fn.body?.stmts ?? []).map((stmt) => writeStmt(within, stmt));
  const [only] = lines;
  if (only === undefined) return params === '' ? `${mark}{}` : `${mark}{ ${params} }`;
  const head = params === '' ? '{' : `{ ${params}`;
  if (lines.length === 1 && !only.includes('\n')) return `${mark}${head} ${only} }`;
  return `${mark}${head}${lines.map((line) => newLine(within) + line).join('')}${newLine(w)}}`;
}

/** With the arrow; nothing where the only parameter is the implicit one. */
function paramsText(w: Writing, fn: Fn): string {
  const params = fn.params.filter((param) => !param.implicit).map((param) => paramText(w, param));
  return params.length === 0 ? '' : `${params.join(', ')} ->`;
}

function paramText(w: Writing, param: Param): string {
  const copied = verbatim(w, param.span);
  if (copied !== undefined) return copied;
  const name = param.pattern === undefined ? nameText(param.name) : patternText(param.pattern);
  return name + (param.type === undefined ? '' : `: ${writeType(w, param.type)}`);
}

