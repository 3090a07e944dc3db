/** Made declarations as Kotlin text: functions, properties, aliases, classes. */
import type { Annotation, Class, Declaration, EnumEntry, Field, Fn, Modifier, Param, Supertype, TypeAlias } from '../../ir/ir.js';
import { writeArgs, writeCall } from './write-calls.js';
import { writeExpr } from './write-expressions.js';
import { patternText, writeBlock } from './write-statements.js';
import { asReceiver, writeType } from './write-types.js';
import { braced, inner, nameText, newLine, NotWritable, verbatim, type Writing } from './writing.js';

export function writeDeclaration(w: Writing, node: Declaration): string {
  const copied = verbatim(w, node.span);
  if (copied !== undefined) return copied;
  switch (node.kind) {
    case 'Fn': return writeFunction(w, node);
    case 'Field': return writeField(w, node);
    case 'TypeAlias': return writeAlias(w, node);
    case 'Class': return writeClass(w, node);
  }
}

// ---- Functions ------------------------------------------------------------

/** Also an anonymous one, and a secondary constructor. */
export function writeFunction(w: Writing, fn: Fn): string {
  const head = annotationLines(w, fn.annotations) + contextLine(w, fn.params) + modifiersText(fn.modifiers);
  if (fn.name === 'constructor') {
    const delegation = fn.delegation === undefined ? '' : ` : ${writeCall(w, fn.delegation)}`;
    return `${head}constructor${writeParams(w, fn.params)}${delegation}${fn.body === undefined ? '' : ` ${writeBlock(w, fn.body)}`}`;
  }
  const types = fn.typeParams.length === 0 ? '' : ` <${fn.typeParams.join(', ')}>`;
  const receiver = fn.receiver === undefined ? '' : `${asReceiver(w, fn.receiver)}.`;
  const name = fn.name === undefined && receiver === '' ? '' : ` ${receiver}${fn.name === undefined ? '' : nameText(fn.name)}`;
  return `${head}fun${types}${name}${writeParams(w, fn.params)}${resultText(w, fn)}${bodyText(w, fn)}`;
}

function resultText(w: Writing, fn: Fn): string {
  return fn.result === undefined ? '' : `: ${writeType(w, fn.result)}`;
}

/** `= value` where the body is nothing but that. */
function bodyText(w: Writing, { body }: Fn): string {
  if (body === undefined) return '';
  const [only] = body.stmts;
  const value = body.stmts.length === 1 && only?.kind === 'Return' && only.implicit ? only.value : undefined;
  return value === undefined ? ` ${writeBlock(w, body)}` : ` = ${writeExpr(w, value)}`;
}

function writeParams(w: Writing, params: readonly Param[], fields: readonly Field[] = []): string {
  return `(${params.filter((param) => !param.implicit).map((param) => writeParam(w, param, fields)).join(', ')})`;
}

/** `fields` are those that constructor parameters declare. */
function writeParam(w: Writing, param: Param, fields: readonly Field[]): string {
  const copied = verbatim(w, param.span);
  if (copied !== undefined) return copied;
  const field = param.property ? fields.find((candidate) => candidate.fromParam && candidate.name === param.name) : undefined;
  const declares = field === undefined ? '' : `${modifiersText(field.modifiers)}${field.mutable ? 'var' : 'val'} `;
  const name = param.pattern === undefined ? nameText(param.name) : patternText(param.pattern);
  const rest = param.rest && !field?.modifiers.has('vararg') ? 'vararg ' : '';
  const type = param.type === undefined ? '' : `: ${writeType(w, param.type)}`;
  const value = param.defaultValue === undefined ? '' : ` = ${writeExpr(w, param.defaultValue)}`;
  const annotations = (field?.annotations ?? []).map((annotation) => `${annotationText(w, annotation)} `).join('');
  return annotations + rest + declares + name + type + value;
}

function contextLine(w: Writing, params: readonly Param[]): string {
  const context = params.filter((param) => param.implicit);
  if (context.length === 0) return '';
  return `context(${context.map((param) => writeParam(w, param, [])).join(', ')})${newLine(w)}`;
}

// ---- Properties -----------------------------------------------------------

function writeField(w: Writing, field: Field): string {
  const head = annotationLines(w, field.annotations) + modifiersText(field.modifiers) + (field.mutable ? 'var ' : 'val ');
  const receiver = field.receiver === undefined ? '' : `${asReceiver(w, field.receiver)}.`;
  const type = field.type === undefined ? '' : `: ${writeType(w, field.type)}`;
  return head + receiver + nameText(field.name) + type + valueText(w, field) + accessorLines(w, field);
}

/** A getter without a name is the lambda of `by lazy`. */
function valueText(w: Writing, { initial, delegate, getter }: Field): string {
  if (delegate !== undefined) return ` by ${writeExpr(w, delegate)}`;
  if (getter !== undefined && isLazy(getter)) return ` by lazy ${writeExpr(w, { kind: 'Lambda', span: getter.span, fn: getter })}`;
  return initial === undefined ? '' : ` = ${writeExpr(w, initial)}`;
}

function isLazy(getter: Fn): boolean {
  return getter.name === undefined && getter.headSpan === undefined;
}

function accessorLines(w: Writing, { getter, setter }: Field): string {
  const within = inner(w);
  const lines: string[] = [];
  if (getter !== undefined && !isLazy(getter)) lines.push(accessor(within, getter, 'get'));
  if (setter !== undefined) lines.push(accessor(within, setter, 'set'));
  return lines.map((line) => newLine(within) + line).join('');
}

function accessor(w: Writing, fn: Fn, word: 'get' | 'set'): string {
  const copied = verbatim(w, fn.span);
  if (copied !== undefined) return copied;
  const head = annotationLines(w, fn.annotations) + modifiersText(fn.modifiers) + word;
  return fn.body === undefined ? head : head + writeParams(w, fn.params) + resultText(w, fn) + bodyText(w, fn);
}

function writeAlias(w: Writing, node: TypeAlias): string {
  return `typealias ${nameText(node.name)}${typeParamsText(node)} = ${writeType(w, node.type)}`;
}

// ---- Classes --------------------------------------------------------------

function writeClass(w: Writing, node: Class): string {
  if (node.form === 'anonymous') return writeObject(w, node);
  if (node.spreads.length > 0) throw new NotWritable('spread members');
  const head = annotationLines(w, node.annotations) + modifiersText(node.modifiers) + (node.form === 'enum' ? 'enum class' : node.form);
  const primary = primaryOf(node);
  const constructorText = primary === undefined ? '' : constructorHead(w, primary, node.fields);
  const lines = bodyLines(inner(w), node);
  const body = lines.length === 0 ? '' : ` ${braced(w, () => lines)}`;
  return `${head} ${nameText(node.name ?? '')}${typeParamsText(node)}${constructorText}${supertypesText(w, node.supertypes)}${body}`;
}

/** `object : T { … }` */
export function writeObject(w: Writing, node: Class): string {
  const copied = verbatim(w, node.span);
  if (copied !== undefined) return copied;
  const lines = bodyLines(inner(w), node);
  return `object${supertypesText(w, node.supertypes)} ${braced(w, () => lines)}`;
}

/** A constructor without delegation whose parameters declare fields or whose body is made of `init` blocks. */
function primaryOf(node: Class): Fn | undefined {
  const [first] = node.constructors;
  return first !== undefined && first.nameSpan === undefined && first.delegation === undefined ? first : undefined;
}

function constructorHead(w: Writing, primary: Fn, fields: readonly Field[]): string {
  const words = primary.annotations.map((annotation) => `${annotationText(w, annotation)} `).join('') + modifiersText(primary.modifiers);
  return (words === '' ? '' : ` ${words}constructor`) + writeParams(w, primary.params, fields);
}

function supertypesText(w: Writing, supertypes: readonly Supertype[]): string {
  if (supertypes.length === 0) return '';
  const texts = supertypes.map(({ type, args, by }) =>
    writeType(w, type) + (args === undefined ? '' : writeArgs(w, args)) + (by === undefined ? '' : ` by ${writeExpr(w, by)}`));
  return ` : ${texts.join(', ')}`;
}

/** Members, each already written for its place one level inside. */
function bodyLines(w: Writing, node: Class): string[] {
  const primary = primaryOf(node);
  const own = (member: Field | Fn): boolean => !(member.kind === 'Field' ? member.static || member.fromParam : member.modifiers.has('static'));
  const statics = [...node.fields.filter((field) => field.static), ...node.functions.filter((fn) => !own(fn))];
  const lines = [
    ...node.fields.filter(own).map((field) => writeDeclaration(w, field)),
    ...(primary?.body?.stmts ?? []).map((stmt) => `init ${writeBlock(w, stmt.kind === 'Block' ? stmt : { kind: 'Block', span: stmt.span, stmts: [stmt] })}`),
    ...node.constructors.filter((fn) => fn !== primary).map((fn) => writeDeclaration(w, fn)),
    ...node.functions.filter(own).map((fn) => writeDeclaration(w, fn)),
    ...[...node.classes, ...node.aliases].map((member) => writeDeclaration(w, member)),
    ...(statics.length === 0 ? [] : [`companion object ${braced(w, (within) => statics.map((member) => writeStatic(within, member)))}`]),
  ];
  return node.entries.length === 0 ? lines : [entriesText(w, node.entries) + (lines.length === 0 ? '' : ';'), ...lines];
}

/** What runs when the class is loaded is a nameless field in the model and an `init` block in Kotlin. */
function writeStatic(w: Writing, member: Field | Fn): string {
  const run = member.kind === 'Field' && member.name === '' && member.initial?.kind === 'Call' ? member.initial.callee : undefined;
  return run?.kind === 'Lambda' && run.fn.body ? `init ${writeBlock(w, run.fn.body)}` : writeDeclaration(w, member);
}

function entriesText(w: Writing, entries: readonly EnumEntry[]): string {
  return entries.map((entry) => {
    const args = entry.args.length === 0 ? '' : writeArgs(w, entry.args);
    const body = entry.body === undefined ? '' : ` ${verbatim(w, entry.body.span) ?? braced(w, () => bodyLines(inner(w), entry.body!))}`;
    return verbatim(w, entry.span) ?? nameText(entry.name) + args + body;
  }).join(`,${newLine(w)}`);
}

function typeParamsText(node: Class | TypeAlias): string {
  return node.typeParams === undefined ? '' : `<${node.typeParams.join(', ')}>`;
}

// ---- Before the keyword -----------------------------------------------------

/** Each on a line of its own. */
function annotationLines(w: Writing, annotations: readonly Annotation[]): string {
  return annotations.map((annotation) => annotationText(w, annotation) + newLine(w)).join('');
}

function annotationText(w: Writing, annotation: Annotation): string {
  return verbatim(w, annotation.span) ?? `@${annotation.name}${annotation.args.length === 0 ? '' : writeArgs({ ...w, annotation: true }, annotation.args)}`;
}

/** In the order in which Kotlin's style guide wants them. */
const WORDS: readonly Modifier[] = [
  'protected', 'private', 'internal', 'expect', 'actual', 'open', 'abstract', 'sealed', 'const', 'external', 'override', 'lateinit', 'tailrec',
  'vararg', 'suspend', 'inner', 'inline', 'value', 'noinline', 'crossinline', 'infix', 'operator', 'data',
];

function modifiersText(modifiers: ReadonlySet<Modifier>): string {
  return WORDS.filter((word) => modifiers.has(word)).map((word) => `${word} `).join('');
}
