/**
 * The constructs of a lowered Kotlin file, recognised by the same marks as those
 * that the Kotlin compiler's own tree is printed by (`kotlin-compiler-tree.java`).
 */
import type { AnyNode, Call, Class, File, Fn, Lambda } from '../../server/ir/ir.js';
import { walk } from '../../server/ir/walk.js';

export const SORTS = ['call', 'lambda', 'function', 'class', 'entry'] as const;
export type Sort = (typeof SORTS)[number];

/** `mark end` of each construct, by sort. */
export type Constructs = Record<Sort, Set<string>>;

export function noConstructs(): Constructs {
  return { call: new Set(), lambda: new Set(), function: new Set(), class: new Set(), entry: new Set() };
}

export function constructsOf(file: File, text: string): Constructs {
  const found = noConstructs();
  const add = (sort: Sort, mark: number, end: number): void => { found[sort].add(`${mark} ${end}`); };
  walk(file, (node, parent) => {
    switch (node.kind) {
      case 'Call': if (isCall(node, parent)) add('call', calleeStart(node), node.span.end); break;
      case 'Lambda': addLambda(node, text, add); break;
      case 'Fn': if (isDeclared(node, parent)) add('function', node.nameSpan!.start, node.span.end); break;
      case 'Field':
        // The lambda of `by lazy { … }` is the property's getter, and the call of `lazy` is not kept.
        if (node.getter && node.getter.nameSpan === undefined) {
          add('lambda', node.getter.span.start, node.getter.span.end);
          add('call', text.lastIndexOf('lazy', node.getter.span.start), node.getter.span.end);
        }
        break;
      case 'Class': addClass(node, parent, text, add); break;
      case 'EnumEntry': {
        const mark = text.indexOf(node.name, node.span.start);
        add('entry', mark, mark + node.name.length);
        break;
      }
    }
  });
  return found;
}

/** Infix calls, constructor delegations and calls that the lowering made are no call expressions to the compiler. */
function isCall(call: Call, parent: AnyNode | undefined): boolean {
  const delegates = parent?.kind === 'Fn' && parent.delegation === call;
  return !call.infix && !delegates && call.span.start >= 0;
}

/** To the compiler, `a.f(x)(y)` are two calls that both begin at `f`. */
function calleeStart(call: Call): number {
  if (call.callee.kind === 'Member') return call.callee.nameSpan.start;
  return call.callee.kind === 'Call' && !call.callee.infix ? calleeStart(call.callee) : call.span.start;
}

function addLambda(lambda: Lambda, text: string, add: (sort: Sort, mark: number, end: number) => void): void {
  const { start, end } = lambda.fn.span;
  if (start < 0) return;
  if (text[start] === '{') add('lambda', start, end);
  else add('function', text.indexOf('fun', start), end);
}

/** A declared function: not a constructor, an accessor, or the function of a lambda. */
function isDeclared(fn: Fn, parent: AnyNode | undefined): boolean {
  const constructs = parent?.kind === 'Class' && parent.constructors.includes(fn);
  return fn.nameSpan !== undefined && !constructs && parent?.kind !== 'Field' && parent?.kind !== 'Lambda';
}

function addClass(node: Class, parent: AnyNode | undefined, text: string, add: (sort: Sort, mark: number, end: number) => void): void {
  if (parent?.kind === 'EnumEntry') return;
  add('class', node.nameSpan ? node.nameSpan.start : text.indexOf('object', node.span.start), node.span.end);
}
