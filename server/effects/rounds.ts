/**
 * The rounds of a loop over something that is known before the program runs: constant lists and maps, the entries of an
 * enum, a range of numbers, and what is mapped from such one for one.
 */
import type { AnyNode, Call, EnumEntry, Expr } from '../ir/ir.js';
import type { Decl } from '../resolve/api.js';
import type { Analysis } from './analysis.js';
import { returnsOf } from './origins.js';
import { fixed, further, keyOf, thingOf, type Thing } from './subjects.js';

export interface Rounds {
  /** Whether a declaration is another thing in each round. */
  isElement(decl: Decl): boolean;
  /** Absent: how many rounds there are is not known. */
  readonly each?: readonly Element[];
  /** An upper bound, where only that is known. */
  readonly most: number;
}

/** What one round goes over. */
type Element =
  | { readonly is: 'item'; readonly value: Expr; readonly key?: Expr }
  | { readonly is: 'entry'; readonly entry: EnumEntry }
  | { readonly is: 'number'; readonly value: number }
  /** What another loop has put into a list in its nth round; `index` where the loop goes over both. */
  | { readonly is: 'made'; readonly thing: Thing; readonly index?: number };

/** The rounds in which a node inside this loop or lambda runs; undefined when it is no loop. */
export function roundsOf(a: Analysis, node: AnyNode): Rounds | undefined {
  return a.once<AnyNode, Rounds | undefined>('rounds', node, undefined, () => {
    if (node.kind === 'Loop') return ofLoop(a, node);
    if (node.kind !== 'Lambda' || !a.isInlined(node.fn)) return undefined;
    const taker = a.program.parentOf(node);
    if (taker?.kind !== 'Call' || a.runOf(taker, node)?.runs !== 'now-many') return undefined;
    const { params } = node.fn;
    return { isElement: decl => decl.is === 'param' && params.includes(decl.node), ...bounds(ofTaker(a, taker)) };
  });
}

function ofLoop(a: Analysis, loop: AnyNode & { kind: 'Loop' }): Rounds {
  if (loop.over) {
    return { isElement: decl => decl.is === 'local' && decl.node === loop, ...bounds(elementsOf(a, loop.over.source)) };
  }
  // `for (let i = 0; i < N; i++)`
  const [before] = loop.before ?? [];
  const decl = before?.kind === 'Let' ? a.resolver.declFor(before, before.bindings[0]) : undefined;
  const test = loop.test;
  if (!decl || before?.kind !== 'Let' || test?.kind !== 'Binary' || test.op !== '<' || test.left.kind !== 'Name' || a.resolver.declOf(test.left) !== decl) return { isElement: () => false, most: Infinity };
  const from = before.value && a.resolver.constants.whole(before.value);
  const to = a.resolver.constants.whole(test.right) ?? lengthOf(a, test.right);
  return { isElement: other => other === decl, ...bounds(from !== undefined && to !== undefined ? numbers(from, to - 1) : undefined) };
}

function bounds(each: readonly Element[] | { readonly most: number } | undefined): { readonly each?: readonly Element[]; readonly most: number } {
  if (each === undefined) return { most: Infinity };
  return 'most' in each ? { most: each.most } : { each, most: each.length };
}

function ofTaker(a: Analysis, taker: Call): readonly Element[] | { readonly most: number } | undefined {
  if (taker.callee.kind === 'Name' && taker.callee.name === 'repeat') {
    const times = taker.args[0] && a.resolver.constants.whole(taker.args[0].value);
    return times === undefined ? undefined : numbers(0, times - 1);
  }
  return taker.callee.kind === 'Member' ? elementsOf(a, taker.callee.object) : undefined;
}

/** Calls that keep some of the elements, nobody knows which. */
const SOME = /^(?:filter|filterNot|filterNotNull|filterIsInstance|take|takeWhile|drop|dropWhile|slice|distinct|distinctBy|minus|intersect)$/;

function elementsOf(a: Analysis, source: Expr, depth = 0): readonly Element[] | { readonly most: number } | undefined {
  if (depth > 6) return undefined;
  const { constants } = a.resolver;
  const entries = constants.entries(source);
  if (entries) return entries.map(entry => ({ is: 'entry', entry }));
  const pairs = pairsOf(a, source);
  if (pairs) return pairs;
  const items = constants.items(source);
  if (items) return items.map(value => ({ is: 'item', value }));
  if (source.kind === 'Binary' && (source.op === '..' || source.op === '..<')) return range(a, source.left, source.right, source.op === '..' ? 0 : 1);
  const filled = filledBy(a, source);
  if (filled) return filled;
  if (source.kind === 'Name') {
    const decl = a.resolver.declOf(source);
    const [only, ...others] = decl ? a.resolver.valuesOf(decl) ?? [] : [];
    return only && others.length === 0 ? elementsOf(a, only, depth + 1) : undefined;
  }
  if (source.kind === 'Member' && source.name === 'indices') {
    const length = lengthOf(a, source);
    return length === undefined ? undefined : numbers(0, length - 1);
  }
  if (source.kind !== 'Call' || source.callee.kind !== 'Member') return undefined;
  const { name, object } = source.callee;
  if (name === 'entries' || name === 'withIndex') return indexed(a, elementsOf(a, object, depth + 1));
  if (name === 'until' && source.args[0]) return range(a, object, source.args[0].value, 1);
  const [lambda] = source.args.flatMap(({ value }) => (value.kind === 'Lambda' ? [value] : []));
  if ((name === 'map' || name === 'mapNotNull') && lambda) return mapped(a, object, lambda, depth);
  if (!SOME.test(name)) return undefined;
  const inner = elementsOf(a, object, depth + 1);
  return inner && { most: 'most' in inner ? inner.most : inner.length };
}

/** Positions and elements: `for (const [i, channel] of channels.entries())`. */
function indexed(a: Analysis, inner: ReturnType<typeof elementsOf>): ReturnType<typeof elementsOf> {
  if (!inner || 'most' in inner) return inner;
  const each = inner.flatMap((element, index) => {
    const thing = element.is === 'item' ? thingOf(a, element.value) : element.is === 'made' ? element.thing : undefined;
    return thing ? [{ is: 'made' as const, thing, index }] : [];
  });
  return each.length === inner.length ? each : { most: inner.length };
}

/** A list that begins empty, and into which one loop puts one thing in each of its rounds; nothing else changes it. */
function filledBy(a: Analysis, source: Expr): ReturnType<typeof elementsOf> {
  const decl = source.kind === 'Name' || source.kind === 'Member' ? a.resolver.declOf(source) : undefined;
  const [only, ...others] = decl && (decl.is === 'local' || decl.is === 'field') ? a.resolver.valuesOf(decl) ?? [] : [];
  if (!decl || !only || others.length > 0 || a.resolver.constants.items(only)?.length !== 0) return undefined;
  const puts = a.resolver.readsOf(decl).flatMap(read => {
    const member = a.program.parentOf(read);
    const call = member?.kind === 'Member' && member.object === read ? a.program.parentOf(member) : undefined;
    return call?.kind === 'Call' && member?.kind === 'Member' && /^(?:add\w*|push|unshift|remove\w*|clear|splice|pop|shift|set|put)$/.test(member.name) ? [{ call, name: member.name }] : [];
  });
  const [put, ...more] = puts;
  if (!put || more.length > 0 || !/^(?:add|push)$/.test(put.name) || put.call.args.length !== 1) return undefined;
  for (let node: AnyNode | undefined = a.program.parentOf(put.call); node && node.kind !== 'Fn'; node = a.program.parentOf(node)) {
    if (node.kind === 'Branch' || node.kind === 'Try') return undefined;
    const rounds = node.kind === 'Loop' ? roundsOf(a, node) : undefined;
    if (!rounds) continue;
    const what = thingOf(a, put.call.args[0]!.value);
    const things = rounds.each && what?.root.is === 'decl' && rounds.isElement(what.root.decl) ? rounds.each.map((element, n) => inRound(a, what, element, n)) : undefined;
    if (things?.every(thing => thing !== undefined)) return things.map(thing => ({ is: 'made', thing: thing! }));
    return rounds.each && { most: rounds.each.length };
  }
  return undefined;
}

/** `UUIDS.mapNotNull { service.getCharacteristic(it) }`: one for one, since the device has what the code looks for. */
function mapped(a: Analysis, object: Expr, lambda: Expr & { kind: 'Lambda' }, depth: number): readonly Element[] | { readonly most: number } | undefined {
  const inner = elementsOf(a, object, depth + 1);
  if (!inner || 'most' in inner) return inner;
  const [value] = returnsOf(a, lambda.fn);
  const thing = value && thingOf(a, value);
  const [param] = lambda.fn.params;
  const decl = param && a.resolver.declFor(param);
  return thing?.root.is === 'decl' && thing.root.decl === decl && thing.path === '' ? inner : { most: inner.length };
}

function range(a: Analysis, from: Expr, to: Expr, less: 0 | 1): readonly Element[] | undefined {
  const [first, last] = [a.resolver.constants.whole(from), a.resolver.constants.whole(to) ?? lengthOf(a, to)];
  return first === undefined || last === undefined ? undefined : numbers(first, last - less);
}

function numbers(from: number, to: number): readonly Element[] | undefined {
  if (to - from > 1000) return undefined;
  return Array.from({ length: Math.max(0, to - from + 1) }, (_, i) => ({ is: 'number' as const, value: from + i }));
}

/** `list.size`, `list.length`, `list.indices`. */
function lengthOf(a: Analysis, expr: Expr): number | undefined {
  if (expr.kind !== 'Member' || !/^(?:size|length|indices)$/.test(expr.name)) return undefined;
  return a.resolver.constants.items(expr.object)?.length ?? a.resolver.constants.entries(expr.object)?.length;
}

/** Keys and values of a constant map. */
function pairsOf(a: Analysis, source: Expr): readonly Element[] | undefined {
  const [map, part] = source.kind === 'Member' && /^(?:keys|values|entries)$/.test(source.name) ? [source.object, source.name]
    : source.kind === 'Call' && source.callee.kind === 'Member' && /^(?:keys|values|entries)$/.test(source.callee.name) && source.args.length === 0 ? [source.callee.object, source.callee.name] : [source, 'entries'];
  if (a.resolver.typeOf(map)?.name !== 'map') return undefined;
  const made = onlyValue(a, map);
  if (made?.kind !== 'Call' || a.resolver.constants.items(map) === undefined) return undefined;
  const args = made.args[0]?.value.kind === 'ListExpr' ? made.args[0].value.items : made.args.map(arg => arg.value);
  const pairs = args.map(pair => {
    if (pair.kind === 'Call' && pair.callee.kind === 'Member' && pair.callee.name === 'to') return { key: pair.callee.object, value: pair.args[0]?.value };
    if (pair.kind === 'Call' && pair.args.length === 2) return { key: pair.args[0]!.value, value: pair.args[1]!.value };
    return pair.kind === 'ListExpr' ? { key: pair.items[0], value: pair.items[1] } : undefined;
  });
  if (pairs.some(pair => !pair?.key || !pair.value)) return undefined;
  return pairs.map(pair => ({ is: 'item', value: part === 'keys' ? pair!.key! : pair!.value!, ...(part === 'entries' && { key: pair!.key! }) }));
}

function onlyValue(a: Analysis, expr: Expr): Expr | undefined {
  if (expr.kind !== 'Name' && expr.kind !== 'Member') return expr;
  const decl = a.resolver.declOf(expr);
  const [only, ...others] = decl ? a.resolver.valuesOf(decl) ?? [] : [];
  return only && others.length === 0 ? onlyValue(a, only) : undefined;
}

// ---- What one round is about --------------------------------------------

/** A thing that depends on the element of a loop, in its nth round; undefined when it cannot be told from another round's. */
export function inRound(a: Analysis, thing: Thing, element: Element, n: number): Thing | undefined {
  if (thing.path.startsWith('[') || thing.path.startsWith('~')) {
    const item = thing.of?.[element.is === 'number' ? element.value : n];
    return item ? thingOf(a, item) : fixed(`${keyOf(thing)} ${n}`);
  }
  switch (element.is) {
    case 'number': return fixed(`${keyOf(thing)} ${element.value}`);
    case 'made': {
      const path = element.index === undefined ? thing.path : /^\.(?:1|value)(?=\.|$)/.test(thing.path) ? thing.path.replace(/^\.(?:1|value)/, '') : undefined;
      return path === undefined ? fixed(`${keyOf(thing)} ${element.index}`) : further(element.thing, path);
    }
    case 'entry': return partOf(a, element.entry.args, thing.path, a.program.parentOf(element.entry));
    case 'item': {
      const [first, ...rest] = thing.path.split('.').slice(1);
      if (element.key !== undefined) {
        const part = first === 'key' || first === '0' ? element.key : first === 'value' || first === '1' ? element.value : undefined;
        return part && ofItem(a, part, rest.map(name => `.${name}`).join(''));
      }
      return ofItem(a, element.value, thing.path);
    }
  }
}

function ofItem(a: Analysis, value: Expr, path: string): Thing | undefined {
  if (path === '') return thingOf(a, value);
  const made = onlyValue(a, value);
  const constructs = made?.kind === 'Call' ? a.resolver.calleeOf(made).constructs : undefined;
  if (made?.kind === 'Call' && constructs && 'kind' in constructs && constructs.kind === 'Class') return partOf(a, made.args, path, constructs);
  if (made?.kind === 'ObjectExpr') {
    const initial = made.body.fields.find(field => `.${field.name}` === path)?.initial;
    return initial && thingOf(a, initial);
  }
  const base = thingOf(a, value);
  return base && further(base, path);
}

/** `channel.uuid` of an element built by a constructor: the argument for that property. */
export function partOf(a: Analysis, args: Call['args'], path: string, owner: AnyNode | undefined): Thing | undefined {
  const [name, ...rest] = path.split('.').slice(1);
  if (name === undefined || rest.length > 0 || owner?.kind !== 'Class') return undefined;
  const at = (owner.constructors[0]?.params ?? []).findIndex(param => param.name === name);
  const value = args.find(arg => arg.name === name)?.value ?? (at >= 0 ? args[at]?.value : undefined);
  return value && thingOf(a, value);
}
