/**
 * A readable text of a program model, for tests and for people.
 *
 * The form is that of nested lists, one line where it fits. It shows everything
 * the model says but where it stands (spans, path, language, comments), so two
 * sources that mean the same print the same. It is not source code: that is
 * written by the languages' writers.
 */
import type {
  AnyNode, Annotation, Argument, Arm, Binding, Block, Branch, Catch, Class, EnumEntry, Field, Fn, Import, Let, Literal,
  Loop, Modifier, Param, Supertype, Try, TypeRef,
} from './ir.js';

const LINE_WIDTH = 110;

/** The text of `node` and all below it, without a newline at its end. */
export function print(node: AnyNode): string {
  return layOut(listOf(node), 0);
}

/** An atom, or a list whose first item is its head. */
type Item = string | readonly Item[];

// ---- Layout -------------------------------------------------------------

function layOut(item: Item, indent: number): string {
  const flat = flatten(item, LINE_WIDTH - indent);
  if (flat !== undefined || typeof item === 'string') return flat ?? (item as string);
  let lead = 0;
  while (lead < item.length && typeof item[lead] === 'string') lead++;
  if (lead === 0) lead = 1;
  const head = item.slice(0, lead).map((part) => layOut(part, indent + 1)).join(' ');
  const rest = item.slice(lead).map((part) => '\n' + ' '.repeat(indent + 2) + layOut(part, indent + 2));
  return `(${head}${rest.join('')})`;
}

/** The one-line form, or undefined where it is longer than `width` or holds a declaration or several statements. */
function flatten(item: Item, width: number): string | undefined {
  if (typeof item === 'string') return item.length <= width ? item : undefined;
  if (item.length > 1 && typeof item[0] === 'string' && ALWAYS_BROKEN.has(item[0])) return undefined;
  let text = '(';
  for (const part of item) {
    const flat = flatten(part, width - text.length - 1);
    if (flat === undefined) return undefined;
    text += text === '(' ? flat : ' ' + flat;
  }
  return text.length < width ? text + ')' : undefined;
}

/** Keeps a short list on the line of its head, where `layOut` would begin a new one. */
function besideHead(item: Item): Item {
  return flatten(item, LINE_WIDTH / 2) ?? item;
}

function oneLine(item: Item): string {
  return typeof item === 'string' ? item : `(${item.map(oneLine).join(' ')})`;
}

const ALWAYS_BROKEN: ReadonlySet<string> = new Set(['file', 'class', 'interface', 'object', 'enum', 'fn', 'if', 'match', 'loop', 'try']);

// ---- Nodes --------------------------------------------------------------

function listOf(node: AnyNode): Item {
  switch (node.kind) {
    case 'File':
      return ['file', ...node.imports.map(importOf), ...lists(node.declarations), ...lists(node.body.stmts)];
    case 'Import': return importOf(node);
    case 'TypeAlias': return ['type', node.name, ...typeParamsOf(node.typeParams), typeOf(node.type)];
    case 'Class': return classOf(node);
    case 'Fn': return fnOf(node, 'fn');
    case 'Field': return fieldOf(node);
    case 'EnumEntry': return entryOf(node);
    case 'Annotation': return annotationOf(node);
    case 'Param': return paramOf(node);

    case 'Block': return ['block' + labelled(node.label), ...lists(node.stmts)];
    case 'Let': return letOf(node);
    case 'Assign': return [(node.op ?? '') + '=' + (node.postfix ? ' postfix' : ''), listOf(node.target), listOf(node.value)];
    case 'ExprStmt': return [node.deliberate ? 'do deliberate' : 'do', listOf(node.expr)];
    case 'Yield': return ['yield', listOf(node.value)];
    case 'Branch': return branchOf(node);
    case 'Loop': return loopOf(node);
    case 'Try': return tryOf(node);
    case 'Return': return ['return' + labelled(node.label) + (node.implicit ? ' implicit' : ''), ...optional(node.value)];
    case 'Throw': return ['throw', listOf(node.value)];
    case 'Jump': return [node.to + labelled(node.label)];
    case 'LocalDecl': return ['local', listOf(node.declaration)];

    case 'Literal': return literalOf(node);
    case 'Template': return ['template', ...lists(node.parts)];
    case 'Name': return nameOf(node.name);
    case 'This': return node.of + labelled(node.label);
    case 'Member': return ['.' + safeMark(node.safe), listOf(node.object), node.name];
    case 'Index': return ['index' + safeMark(node.safe), listOf(node.object), listOf(node.index)];
    case 'Call': {
      const head = (node.construct ? 'new' : node.markup ? 'markup' : node.infix ? 'call infix' : 'call') + safeMark(node.safe);
      return [head, listOf(node.callee), ...typeArgsOf(node.typeArgs), ...node.args.map(argOf)];
    }
    case 'Lambda': return fnOf(node.fn, 'lambda' + labelled(node.label));
    case 'FnRef': return ['::', ...optional(node.object), node.name];
    case 'ObjectExpr': return classOf(node.body);
    case 'ListExpr': return ['list', ...lists(node.items)];
    case 'Unary': return [node.op, listOf(node.value)];
    case 'Binary': return [node.op, listOf(node.left), listOf(node.right)];
    case 'Is': return [node.not ? '!is' : 'is', listOf(node.value), typeOf(node.type)];
    case 'Choose': return ['choose', listOf(node.branch)];
    case 'Leave': return ['leave', listOf(node.by)];
    case 'Await': return ['await', listOf(node.value)];
    case 'Emit': return [node.all ? 'emit-all' : 'emit', ...optional(node.value)];
    case 'Cast': return [node.safe ? 'as?' : 'as', listOf(node.value), typeOf(node.type)];
    case 'Unknown': return ['unknown', ...lists(node.children)];
  }
}

/** A fragment's tag and a static block have none. */
function nameOf(name: string): string {
  return name === '' ? "''" : name;
}

function lists(nodes: readonly AnyNode[]): Item[] {
  return nodes.map(listOf);
}

function optional(node: AnyNode | undefined): Item[] {
  return node === undefined ? [] : [listOf(node)];
}

function labelled(label: string | undefined): string {
  return label === undefined ? '' : '@' + label;
}

function safeMark(safe: 'step' | 'chain' | undefined): string {
  return safe === undefined ? '' : safe === 'step' ? '?' : '?..';
}

function literalOf({ value, absent }: Literal): string {
  if (absent) return 'undefined';
  if (typeof value === 'string') return JSON.stringify(value);
  return typeof value === 'bigint' ? `${value}n` : String(value);
}

function argOf(arg: Argument): Item {
  const value = listOf(arg.value);
  const marks = [...(arg.name === undefined ? [] : [arg.name + ':']), ...(arg.spread ? ['...'] : []), ...(arg.trailing ? ['trailing'] : [])];
  return marks.length === 0 ? value : [...marks, value];
}

// ---- Declarations -------------------------------------------------------

function importOf(node: Import): Item {
  return ['import', JSON.stringify(node.from), node.name ?? '*', ...(node.alias === undefined ? [] : ['as', node.alias])];
}

function classOf(node: Class): Item {
  return [
    node.form === 'anonymous' ? 'object' : node.form,
    ...(node.name === undefined ? [] : [node.name]),
    ...typeParamsOf(node.typeParams),
    ...modifiersOf(node.modifiers),
    ...node.annotations.map(annotationOf),
    ...node.supertypes.map(supertypeOf),
    ...lists(node.entries), ...lists(node.fields), ...node.constructors.map((fn) => fnOf(fn, 'fn')), ...lists(node.functions),
    ...lists(node.classes), ...lists(node.aliases),
    ...node.spreads.map((spread): Item => ['...', listOf(spread)]),
  ];
}

function supertypeOf(supertype: Supertype): Item {
  return [
    ':', typeOf(supertype.type),
    ...(supertype.args === undefined ? [] : [supertype.args.map(argOf)]),
    ...(supertype.by === undefined ? [] : ['by', listOf(supertype.by)]),
  ];
}

function entryOf(node: EnumEntry): Item {
  return ['entry', node.name, ...node.args.map(argOf), ...optional(node.value), ...optional(node.body)];
}

function annotationOf(node: Annotation): Item {
  return node.args.length === 0 ? '@' + node.name : ['@' + node.name, ...node.args.map(argOf)];
}

function typeParamsOf(names: readonly string[] | undefined): string[] {
  return names === undefined || names.length === 0 ? [] : [`<${names.join(', ')}>`];
}

function modifiersOf(modifiers: ReadonlySet<Modifier>): string[] {
  return modifiers.size === 0 ? [] : [`[${[...modifiers].sort().join(' ')}]`];
}

function fnOf(node: Fn, head: string): Item {
  return [
    head,
    ...(node.receiver === undefined ? [] : [typeOf(node.receiver) + '.']),
    ...(node.name === undefined ? [] : [node.name]),
    ...typeParamsOf(node.typeParams),
    ...modifiersOf(node.modifiers),
    ...node.annotations.map(annotationOf),
    besideHead(node.params.map(paramOf)),
    ...(node.result === undefined ? [] : ['-> ' + typeOf(node.result)]),
    ...optional(node.delegation),
    ...(node.body === undefined ? ['bodiless'] : lists(node.body.stmts)),
  ];
}

function paramOf(node: Param): Item {
  const marks = [node.rest && '...', node.optional && 'optional', node.implicit && 'implicit', node.property && 'property'];
  const parts: Item[] = [
    ...(node.pattern === undefined ? [node.name] : [node.pattern.map(bindingOf)]),
    ...(node.type === undefined ? [] : [': ' + typeOf(node.type)]),
    ...marks.filter((mark) => typeof mark === 'string'),
    ...(node.defaultValue === undefined ? [] : ['=', listOf(node.defaultValue)]),
  ];
  return parts.length === 1 ? parts[0]! : parts;
}

function fieldOf(node: Field): Item {
  return [
    node.mutable ? 'field var' : 'field',
    ...(node.receiver === undefined ? [] : [typeOf(node.receiver) + '.']),
    nameOf(node.name),
    ...(node.type === undefined ? [] : [': ' + typeOf(node.type)]),
    ...(node.static ? ['static'] : []),
    ...(node.fromParam ? ['from-param'] : []),
    ...modifiersOf(node.modifiers),
    ...node.annotations.map(annotationOf),
    ...optional(node.initial),
    ...(node.delegate === undefined ? [] : [['by', listOf(node.delegate)]]),
    ...(node.getter === undefined ? [] : [fnOf(node.getter, 'get')]),
    ...(node.setter === undefined ? [] : [fnOf(node.setter, 'set')]),
  ];
}

// ---- Statements ---------------------------------------------------------

function bindingOf(binding: Binding): Item {
  if (binding.path.length === 0 && binding.defaultValue === undefined && !binding.rest) return binding.name;
  return [
    binding.name,
    ...(binding.rest ? ['...'] : []),
    ...(binding.path.length === 0 ? [] : ['at', binding.path.join('.')]),
    ...(binding.defaultValue === undefined ? [] : ['=', listOf(binding.defaultValue)]),
  ];
}

function bindingsOf(bindings: readonly Binding[]): Item {
  const only = bindings.length === 1 ? bindingOf(bindings[0]!) : undefined;
  return typeof only === 'string' ? only : bindings.map(bindingOf);
}

function letOf(node: Let): Item {
  const marks = [node.mutable ? 'var' : 'let', node.scoped && 'scoped', node.delegated && 'delegated', node.exported && 'exported'];
  return [
    marks.filter((mark) => typeof mark === 'string').join(' '),
    bindingsOf(node.bindings),
    ...(node.type === undefined ? [] : [': ' + typeOf(node.type)]),
    ...optional(node.value),
  ];
}

function branchOf(node: Branch): Item {
  if (node.subject === undefined) return ['if', ...node.arms.map(armOf)];
  return ['match', ...(node.subjectName === undefined ? [] : [node.subjectName + ' =']), besideHead(listOf(node.subject)), ...node.arms.map(armOf)];
}

function armOf(arm: Arm): Item {
  const tests = arm.tests.map((test): Item => {
    if ('when' in test) return listOf(test.when);
    const not = test.not ? '!' : '';
    return 'is' in test ? [not + 'is', typeOf(test.is)] : [not + 'in', listOf(test.in)];
  });
  return [
    ...(arm.tests.length === 0 ? ['else'] : ['when', besideHead(tests.length === 1 ? tests[0]! : ['any', ...tests])]),
    ...(arm.guard === undefined ? [] : [['guard', listOf(arm.guard)]]),
    ...lists(arm.body.stmts),
    ...(arm.falls ? ['falls'] : []),
  ];
}

function loopOf(node: Loop): Item {
  const parts: Item[] = ['loop' + labelled(node.label)];
  if (node.over !== undefined) {
    const { bindings, source, type, awaited, keys } = node.over;
    parts.push(['over', bindingsOf(bindings), ...(type === undefined ? [] : [': ' + typeOf(type)]),
      ...(awaited ? ['awaited'] : []), ...(keys ? ['keys'] : []), listOf(source)]);
  }
  if (node.before !== undefined) parts.push(['before', ...lists(node.before)]);
  if (node.test !== undefined) parts.push([node.testFirst ? 'while' : 'until-not', listOf(node.test)]);
  if (node.step !== undefined) parts.push(['step', ...lists(node.step)]);
  return [...parts, ...lists(node.body.stmts)];
}

function tryOf(node: Try): Item {
  const catchOf = (caught: Catch): Item => [
    'catch', ...(caught.param === undefined ? [] : [caught.param]), ...(caught.type === undefined ? [] : [': ' + typeOf(caught.type)]),
    ...lists(caught.body.stmts),
  ];
  const last = (block: Block): Item => ['finally', ...lists(block.stmts)];
  return ['try', ...lists(node.body.stmts), ...node.catches.map(catchOf), ...(node.last === undefined ? [] : [last(node.last)])];
}

// ---- Types --------------------------------------------------------------

function typeArgsOf(types: readonly TypeRef[]): string[] {
  return types.length === 0 ? [] : [`<${types.map(typeOf).join(', ')}>`];
}

function typeOf(type: TypeRef): string {
  return (type.receiver === undefined ? '' : typeOf(type.receiver) + '.') + (type.suspend ? 'suspend ' : '') + type.name
    + (type.members === undefined ? '' : `{${memberText(type.members)}}`) + typeArgsOf(type.args).join('') + (type.nullable ? '?' : '');
}

function memberText(members: Class): string {
  return [...members.fields, ...members.functions].map((member) => oneLine(listOf(member))).join('; ');
}
