/** Made types as Kotlin text. */
import type { TypeRef } from '../../ir/ir.js';
import { NotWritable, verbatim, type Writing } from './writing.js';

/** The usual Kotlin name for each neutral one. */
const NAMES: Readonly<Record<string, string>> = {
  number: 'Int', string: 'String', boolean: 'Boolean', void: 'Unit', bytes: 'ByteArray', list: 'List', set: 'Set', map: 'Map', any: 'Any',
};

export function writeType(w: Writing, type: TypeRef): string {
  const copied = verbatim(w, type.span);
  if (copied !== undefined) return copied;
  if (type.name === '|' || type.members !== undefined) throw new NotWritable('union or object types');
  if (type.name === '&') return type.args.map((member) => writeType(w, member)).join(' & ');
  if (type.name === 'fun') return writeFunctionType(w, type);
  return (NAMES[type.name] ?? type.name) + writeTypeArgs(w, type.args) + (type.nullable ? '?' : '');
}

export function writeTypeArgs(w: Writing, args: readonly TypeRef[]): string {
  return args.length === 0 ? '' : `<${args.map((arg) => writeType(w, arg)).join(', ')}>`;
}

function writeFunctionType(w: Writing, type: TypeRef): string {
  const result = type.args.at(-1);
  if (result === undefined) throw new NotWritable('function type without a result');
  const params = type.args.slice(0, -1).map((param) => writeType(w, param)).join(', ');
  const receiver = type.receiver === undefined ? '' : `${asReceiver(w, type.receiver)}.`;
  const text = `${type.suspend ? 'suspend ' : ''}${receiver}(${params}) -> ${writeType(w, result)}`;
  return type.nullable ? `(${text})?` : text;
}

/** Before a dot, a function type needs parentheses. */
export function asReceiver(w: Writing, type: TypeRef): string {
  const text = writeType(w, type);
  return type.name === 'fun' && !type.nullable ? `(${text})` : text;
}
