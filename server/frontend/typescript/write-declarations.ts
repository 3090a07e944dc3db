/**
 * Made declarations as TypeScript text: functions, methods, fields, aliases, and
 * classes of such.
 */
import type { Class, Declaration, Field, Fn, Modifier, Param, TypeAlias } from '../../ir/ir.js';
import { writeValue } from './write-expressions.js';
import { writeBindings, writeBlock } from './write-statements.js';
import { writeType } from './write-types.js';
import { inner, newLine, NotWritable, terminator, verbatim, type Writing } from './writing.js';

/** A function is a method among members, and stands on its own among statements. */
export function writeDeclaration(w: Writing, node: Declaration, among: 'members' | 'statement'): string {
  const copied = verbatim(w, node.span);
  if (copied !== undefined) return copied;
  switch (node.kind) {
    case 'Fn': return among === 'members' ? writeMember(w, node) : writeFunction(w, node);
    case 'Field': return writeField(w, node);
    case 'TypeAlias': return writeAlias(w, node);
    case 'Class': return writeClass(w, node);
  }
}

/** `function name() { … }`, also as an expression. */
export function writeFunction(w: Writing, fn: Fn): string {
  const star = fn.modifiers.has('generator') ? '*' : '';
  return `${modifiersText(fn.modifiers, FUNCTION_WORDS)}function${star}${fn.name === undefined ? '' : ` ${fn.name}`}${signature(w, fn)}`;
}

/** `name() { … }` */
export function writeMember(w: Writing, fn: Fn): string {
  const star = fn.modifiers.has('generator') ? '*' : '';
  return verbatim(w, fn.span) ?? `${modifiersText(fn.modifiers, MEMBER_WORDS)}${star}${fn.name ?? ''}${signature(w, fn)}`;
}

function signature(w: Writing, fn: Fn): string {
  const types = fn.typeParams.length === 0 ? '' : `<${fn.typeParams.join(', ')}>`;
  const body = fn.body === undefined ? terminator(w) : ` ${writeBlock(w, fn.body)}`;
  return `${types}${writeParams(w, fn)}${body}`;
}

/** In parentheses, and with the type of the result. */
export function writeParams(w: Writing, fn: Fn): string {
  const params = fn.params.filter((param) => !param.implicit).map((param) => writeParam(w, param));
  if (fn.receiver !== undefined) params.unshift(`this: ${writeType(w, fn.receiver)}`);
  return `(${params.join(', ')})${fn.result === undefined ? '' : `: ${writeType(w, fn.result)}`}`;
}

function writeParam(w: Writing, param: Param): string {
  const copied = verbatim(w, param.span);
  if (copied !== undefined) return copied;
  const name = param.pattern === undefined ? param.name : writeBindings(w, param.pattern);
  const type = param.type === undefined ? '' : `: ${writeType(w, param.type)}`;
  const value = param.defaultValue === undefined ? '' : ` = ${writeValue(w, param.defaultValue)}`;
  return `${param.rest ? '...' : ''}${name}${param.optional ? '?' : ''}${type}${value}`;
}

function writeField(w: Writing, field: Field): string {
  if (field.getter !== undefined || field.setter !== undefined) {
    return [field.getter && `get ${writeMember(w, field.getter)}`, field.setter && `set ${writeMember(w, field.setter)}`]
      .filter((text) => text !== undefined).join(newLine(w));
  }
  if (field.delegate !== undefined) throw new NotWritable('delegated property');
  const type = field.type === undefined ? '' : `: ${writeType(w, field.type)}`;
  const value = field.initial === undefined ? '' : ` = ${writeValue(w, field.initial)}`;
  const words = modifiersText(field.modifiers, MEMBER_WORDS) + (field.static ? 'static ' : '') + (field.mutable ? '' : 'readonly ');
  return `${words}${field.name}${type}${value}${terminator(w)}`;
}

function writeAlias(w: Writing, node: TypeAlias): string {
  const types = node.typeParams === undefined ? '' : `<${node.typeParams.join(', ')}>`;
  return `type ${node.name}${types} = ${writeType(w, node.type)}${terminator(w)}`;
}

function writeClass(w: Writing, node: Class): string {
  if (node.form === 'enum') return writeEnum(w, node);
  if (node.form !== 'class' && node.form !== 'interface') throw new NotWritable(`made ${node.form}`);
  const within = inner(w);
  const members = [...node.fields, ...node.constructors, ...node.functions].map((member) => writeDeclaration(within, member, 'members'));
  const supers = node.supertypes.map(({ type }) => writeType(w, type));
  const head = `${modifiersText(node.modifiers, FUNCTION_WORDS)}${node.form} ${node.name ?? ''}${supers.length === 0 ? '' : ` extends ${supers.join(', ')}`}`;
  return `${head} {${members.map((member) => newLine(within) + member).join('')}${members.length === 0 ? '' : newLine(w)}}`;
}

function writeEnum(w: Writing, node: Class): string {
  const within = inner(w);
  const entries = node.entries.map((entry) => `${newLine(within)}${entry.name}${entry.value === undefined ? '' : ` = ${writeValue(w, entry.value)}`},`);
  return `${modifiersText(node.modifiers, FUNCTION_WORDS)}enum ${node.name ?? ''} {${entries.join('')}${newLine(w)}}`;
}

const FUNCTION_WORDS: readonly Modifier[] = ['export', 'default', 'declare', 'abstract', 'const', 'async'];
const MEMBER_WORDS: readonly Modifier[] = ['private', 'protected', 'static', 'abstract', 'override', 'async'];

/** In the order in which the language wants them. */
function modifiersText(modifiers: ReadonlySet<Modifier>, words: readonly Modifier[]): string {
  return words.filter((word) => modifiers.has(word)).map((word) => `${word} `).join('');
}
