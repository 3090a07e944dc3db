/**
 * Types as TypeScript spells them. What was written is copied; a made type goes
 * from its neutral name to the usual one.
 */
import type { Class, TypeRef } from '../../ir/ir.js';
import { writeDeclaration } from './write-declarations.js';
import { verbatim, type Writing } from './writing.js';

const SPELLED: ReadonlyMap<string, string> = new Map([['bytes', 'Uint8Array'], ['map', 'Map'], ['set', 'Set'], ['any', 'unknown']]);

export function writeType(w: Writing, type: TypeRef): string {
  return verbatim(w, type.span) ?? (type.nullable ? `${operand(w, { ...type, nullable: false })} | null` : plain(w, type));
}

function plain(w: Writing, type: TypeRef): string {
  if (type.members !== undefined) return writeTypeMembers(w, type.members);
  const args = type.args.map((arg) => writeType(w, arg));
  switch (type.name) {
    case 'list': return type.args.length === 1 ? `${operand(w, type.args[0]!)}[]` : `[${args.join(', ')}]`;
    case 'fun': return functionType(w, type);
    case '|':
    case '&': return type.args.map((arg) => operand(w, arg)).join(` ${type.name} `);
    default: return (SPELLED.get(type.name) ?? type.name) + (args.length === 0 ? '' : `<${args.join(', ')}>`);
  }
}

/** In parentheses where it would otherwise be read as more than one operand. */
function operand(w: Writing, type: TypeRef): string {
  const text = writeType(w, type);
  return type.name === 'fun' || type.name === '|' || type.name === '&' || type.nullable ? `(${text})` : text;
}

function functionType(w: Writing, type: TypeRef): string {
  const params = type.args.slice(0, -1).map((arg, i) => `${String.fromCharCode(97 + (i % 26))}: ${writeType(w, arg)}`);
  if (type.receiver !== undefined) params.unshift(`this: ${writeType(w, type.receiver)}`);
  const result = type.args.at(-1);
  return `(${params.join(', ')}) => ${result === undefined ? 'void' : writeType(w, result)}`;
}

/** `{ name: string; read(): void }`, on one line. */
function writeTypeMembers(w: Writing, { fields, functions }: Class): string {
  const members = [...fields, ...functions].map((member) => writeDeclaration(w, member, 'members').replace(/;$/, ''));
  return members.length === 0 ? '{}' : `{ ${members.join('; ')} }`;
}
