/**
 * Made declarations as TypeScript text: functions, methods, fields, aliases, and
 * classes of such.
 */
import type { Annotation, Class, Declaration, Field, Fn, Modifier, Param, TypeAlias } from '../../ir/ir.js';
import { writeArguments, writeString, writeValue } from './write-expressions.js';
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

/** `name() { … }`; `word` is the `get` or `set` of an accessor. */
export function writeMember(w: Writing, fn: Fn, word: '' | 'get ' | 'set ' = ''): string {
  const star = fn.modifiers.has('generator') ? '*' : '';
  const words = decorators(w, fn.annotations) + modifiersText(fn.modifiers, MEMBER_WORDS) + word + star;
  return verbatim(w, fn.span) ?? `${words}${fn.name === undefined ? '' : memberName(w, fn.name)}${signature(w, fn)}`;
}

/** In quotes where it is no word. */
export function memberName(w: Writing, name: string): string {
  return /^(#?[\p{ID_Start}$_][\p{ID_Continue}$]*|\[.*\])$/u.test(name) ? name : writeString(w, name);
}

function signature(w: Writing, fn: Fn): string {
  const body = fn.body === undefined ? terminator(w) : ` ${writeBlock(w, fn.body)}`;
  return `${typeParams(fn.typeParams)}${writeParams(w, fn)}${body}`;
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
  if (hasAccessors(field)) return writeAccessors(w, field).join(newLine(w));
  if (field.name === '' && field.static) return writeStaticBlock(w, field);
  if (field.delegate !== undefined) throw new NotWritable('delegated property');
  const type = field.type === undefined ? '' : `: ${writeType(w, field.type)}`;
  const value = field.initial === undefined ? '' : ` = ${writeValue(w, field.initial)}`;
  const words = decorators(w, field.annotations) + modifiersText(field.modifiers, MEMBER_WORDS) + (field.static ? 'static ' : '') + (field.mutable ? '' : 'readonly ');
  return `${words}${memberName(w, field.name)}${type}${value}${terminator(w)}`;
}

/** The nameless field whose value is a block, run at once. */
function writeStaticBlock(w: Writing, { initial }: Field): string {
  const body = initial?.kind === 'Call' && initial.callee.kind === 'Lambda' ? initial.callee.fn.body : undefined;
  if (body === undefined) throw new NotWritable('field without a name');
  return `static ${writeBlock(w, body)}`;
}

export function hasAccessors(field: Field): boolean {
  return field.getter !== undefined || field.setter !== undefined;
}

export function writeAccessors(w: Writing, { getter, setter }: Field): string[] {
  const texts: string[] = [];
  if (getter !== undefined) texts.push(writeMember(w, getter, 'get '));
  if (setter !== undefined) texts.push(writeMember(w, setter, 'set '));
  return texts;
}

function writeAlias(w: Writing, node: TypeAlias): string {
  return `type ${node.name}${typeParams(node.typeParams)} = ${writeType(w, node.type)}${terminator(w)}`;
}

function writeClass(w: Writing, node: Class): string {
  if (node.form === 'enum') return writeEnum(w, node);
  if (node.form !== 'class' && node.form !== 'interface') throw new NotWritable(`made ${node.form}`);
  if (node.spreads.length > 0) throw new NotWritable('member whose name nobody knows');
  const within = inner(w);
  const members = [
    ...node.fields.filter((field) => !field.fromParam && !hasAccessors(field)).map((field) => writeDeclaration(within, field, 'members')),
    ...node.constructors.map((fn) => writeConstructor(within, fn, node)),
    ...[...node.fields.filter(hasAccessors), ...node.functions].map((member) => writeDeclaration(within, member, 'members')),
  ];
  const supers = node.supertypes.map(({ type, args }) => writeType(w, type) + (args === undefined ? '' : writeArguments(w, args)));
  const head = `${decorators(w, node.annotations)}${modifiersText(node.modifiers, FUNCTION_WORDS)}${node.form} ${node.name ?? ''}${typeParams(node.typeParams)}${supers.length === 0 ? '' : ` extends ${supers.join(', ')}`}`;
  return `${head} {${members.map((member) => newLine(within) + member).join('')}${members.length === 0 ? '' : newLine(w)}}`;
}

export function typeParams(names: readonly string[] | undefined): string {
  return names === undefined || names.length === 0 ? '' : `<${names.join(', ')}>`;
}

/** A parameter that is also a property carries that property's words. */
function writeConstructor(w: Writing, fn: Fn, owner: Class): string {
  const copied = verbatim(w, fn.span);
  if (copied !== undefined) return copied;
  const params = fn.params.map((param) => {
    const field = param.property ? owner.fields.find((it) => it.fromParam && it.name === param.name) : undefined;
    if (field === undefined) return writeParam(w, param);
    const words = modifiersText(field.modifiers, MEMBER_WORDS) + (field.mutable ? '' : 'readonly ');
    return `${words === '' ? 'public ' : words}${writeParam(w, param)}`;
  });
  const result = fn.result === undefined ? '' : `: ${writeType(w, fn.result)}`;
  const word = owner.form === 'interface' ? 'new ' : 'constructor';
  return `${modifiersText(fn.modifiers, MEMBER_WORDS)}${word}(${params.join(', ')})${result}${fn.body === undefined ? terminator(w) : ` ${writeBlock(w, fn.body)}`}`;
}

function writeEnum(w: Writing, node: Class): string {
  const within = inner(w);
  const entries = node.entries.map((entry) => `${newLine(within)}${entry.name}${entry.value === undefined ? '' : ` = ${writeValue(w, entry.value)}`},`);
  return `${modifiersText(node.modifiers, FUNCTION_WORDS)}enum ${node.name ?? ''} {${entries.join('')}${newLine(w)}}`;
}

function decorators(w: Writing, annotations: readonly Annotation[]): string {
  return annotations.map(({ name, args }) => `@${name}${args.length === 0 ? '' : writeArguments(w, args)} `).join('');
}

const FUNCTION_WORDS: readonly Modifier[] = ['export', 'default', 'declare', 'abstract', 'const', 'async'];
const MEMBER_WORDS: readonly Modifier[] = ['declare', 'private', 'protected', 'static', 'abstract', 'override', 'async'];

/** In the order in which the language wants them. */
function modifiersText(modifiers: ReadonlySet<Modifier>, words: readonly Modifier[]): string {
  return words.filter((word) => modifiers.has(word)).map((word) => `${word} `).join('');
}
