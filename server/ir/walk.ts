/**
 * The one place that knows where a node keeps its children.
 *
 * Children come in the order in which they are evaluated, which is the order of
 * the source but for a few constructs (a declaration's value before the defaults
 * of its pattern, a `for` loop's body before its step). Types are not walked:
 * they evaluate nothing; `typesOf` names them. This module interprets nothing
 * else: who skips what (lambdas, nested classes) is the visitor's affair.
 */
import type {
  AnyNode, Argument, Arm, Binding, Catch, Class, Field, File, Fn, Loop, Supertype, TypeRef,
} from './ir.js';

/** The nodes directly below `node`, in evaluation order. */
export function children(node: AnyNode): readonly AnyNode[] {
  const out: AnyNode[] = [];
  collectChildren(node, out);
  return out;
}

/**
 * Visits `root` and everything below it, parents before children, in evaluation
 * order. A visitor that answers `'skip'` is not shown what lies below that node.
 * Uses no recursion, so that no depth of source can exhaust the stack.
 */
export function walk(root: AnyNode, visit: (node: AnyNode, parent?: AnyNode) => void | 'skip'): void {
  const nodes: AnyNode[] = [root];
  const parents: (AnyNode | undefined)[] = [undefined];
  for (let node = nodes.pop(); node !== undefined; node = nodes.pop()) {
    if (visit(node, parents.pop()) === 'skip') continue;
    const first = nodes.length;
    collectChildren(node, nodes);
    for (let i = first; i < nodes.length; i++) parents.push(node);
    for (let low = first, high = nodes.length - 1; low < high; low++, high--) {
      const other = nodes[low]!;
      nodes[low] = nodes[high]!;
      nodes[high] = other;
    }
  }
}

/** Every node of one kind at or below `root`, in evaluation order. */
export function findAll<K extends AnyNode['kind']>(root: AnyNode, kind: K): Extract<AnyNode, { kind: K }>[] {
  const found: Extract<AnyNode, { kind: K }>[] = [];
  walk(root, (node) => {
    if (node.kind === kind) found.push(node as Extract<AnyNode, { kind: K }>);
  });
  return found;
}

/** The types that `node` itself names (not those of its children), in source order; their `args` are left to the caller. */
export function typesOf(node: AnyNode): readonly TypeRef[] {
  switch (node.kind) {
    case 'TypeAlias':
    case 'Is':
    case 'Cast':
      return [node.type];
    case 'Class':
      return node.supertypes.map((supertype) => supertype.type);
    case 'Fn':
      return present(node.receiver, node.result);
    case 'Field':
      return present(node.receiver, node.type);
    case 'Param':
    case 'Let':
      return present(node.type);
    case 'Branch':
      return node.arms.flatMap((arm) => arm.tests.flatMap((test) => ('is' in test ? [test.is] : [])));
    case 'Loop':
      return present(node.over?.type);
    case 'Try':
      return node.catches.flatMap((caught) => present(caught.type));
    case 'Call':
      return node.typeArgs;
    default:
      return [];
  }
}

function present(...types: (TypeRef | undefined)[]): TypeRef[] {
  return types.filter((type) => type !== undefined);
}

type Out = AnyNode[];

/** The commonest kinds come first: this is asked for every node of every file. */
function collectChildren(node: AnyNode, out: Out): void {
  switch (node.kind) {
    case 'Name':
    case 'Literal':
    case 'This':
    case 'Import':
    case 'TypeAlias':
    case 'Jump':
      return;
    case 'Member':
      out.push(node.object);
      return;
    case 'Call':
      out.push(node.callee);
      return pushArgs(node.args, out);
    case 'File': return fileChildren(node, out);
    case 'Class': return classChildren(node, out);
    case 'Fn': return fnChildren(node, out);
    case 'Field': return fieldChildren(node, out);
    case 'Loop': return loopChildren(node, out);
    case 'EnumEntry':
      pushArgs(node.args, out);
      pushSome(out, node.value);
      return pushSome(out, node.body);
    case 'Annotation':
      return pushArgs(node.args, out);
    case 'Param':
      pushSome(out, node.defaultValue);
      return pushBindings(node.pattern, out);
    case 'Block':
      return pushAll(node.stmts, out);
    case 'Let':
      pushSome(out, node.value);
      return pushBindings(node.bindings, out);
    case 'Assign':
      out.push(node.target, node.value);
      return;
    case 'ExprStmt':
      out.push(node.expr);
      return;
    case 'Branch':
      pushSome(out, node.subject);
      for (const arm of node.arms) pushArm(arm, out);
      return;
    case 'Try':
      out.push(node.body);
      for (const caught of node.catches) pushCatch(caught, out);
      return pushSome(out, node.last);
    case 'Yield':
    case 'Throw':
    case 'Unary':
    case 'Is':
    case 'Await':
    case 'Cast':
      out.push(node.value);
      return;
    case 'Return':
    case 'Emit':
      return pushSome(out, node.value);
    case 'LocalDecl':
      out.push(node.declaration);
      return;
    case 'Template':
      return pushAll(node.parts, out);
    case 'FnRef':
      return pushSome(out, node.object);
    case 'Index':
      out.push(node.object, node.index);
      return;
    case 'Lambda':
      out.push(node.fn);
      return;
    case 'ObjectExpr':
      out.push(node.body);
      return;
    case 'ListExpr':
      return pushAll(node.items, out);
    case 'Binary':
      out.push(node.left, node.right);
      return;
    case 'Choose':
      out.push(node.branch);
      return;
    case 'Leave':
      out.push(node.by);
      return;
    case 'Unknown':
      return pushAll(node.children, out);
  }
}

function fileChildren(file: File, out: Out): void {
  pushAll(file.imports, out);
  pushAll(file.declarations, out);
  out.push(file.body);
}

/** Members stand in lists by kind; what evaluates among them (fields, spreads, entries) does so in source order, so all of them are merged by it. */
function classChildren(node: Class, out: Out): void {
  pushAll(node.annotations, out);
  for (const supertype of node.supertypes) pushSupertype(supertype, out);
  const first = out.length;
  pushAll(node.entries, out);
  pushAll(node.constructors, out);
  pushAll(node.fields, out);
  pushAll(node.spreads, out);
  pushAll(node.functions, out);
  pushAll(node.classes, out);
  pushAll(node.aliases, out);
  sortBySource(out, first);
}

/** Stable, from index `first` on. A made node has no place in the source and stays behind the one it was put after. */
function sortBySource(out: Out, first: number): void {
  let previous = -1;
  let sorted = true;
  for (let i = first; i < out.length && sorted; i++) {
    const start = out[i]!.span.start;
    if (start < 0) continue;
    sorted = start >= previous;
    previous = start;
  }
  if (sorted) return;
  const keyed = out.splice(first).map((node) => ({ node, start: node.span.start }));
  for (let i = 1; i < keyed.length; i++) {
    if (keyed[i]!.start < 0) keyed[i]!.start = keyed[i - 1]!.start;
  }
  keyed.sort((a, b) => a.start - b.start);
  for (const { node } of keyed) out.push(node);
}

function fnChildren(fn: Fn, out: Out): void {
  pushAll(fn.annotations, out);
  pushAll(fn.params, out);
  pushSome(out, fn.delegation);
  pushSome(out, fn.body);
}

function fieldChildren(field: Field, out: Out): void {
  pushAll(field.annotations, out);
  pushSome(out, field.initial);
  pushSome(out, field.delegate);
  pushSome(out, field.getter);
  pushSome(out, field.setter);
}

function loopChildren(loop: Loop, out: Out): void {
  if (loop.over !== undefined) {
    out.push(loop.over.source);
    pushBindings(loop.over.bindings, out);
  }
  if (loop.before !== undefined) pushAll(loop.before, out);
  if (loop.test !== undefined && loop.testFirst) out.push(loop.test);
  out.push(loop.body);
  if (loop.step !== undefined) pushAll(loop.step, out);
  if (loop.test !== undefined && !loop.testFirst) out.push(loop.test);
}

function pushAll(nodes: readonly AnyNode[], out: Out): void {
  for (const node of nodes) out.push(node);
}

function pushSome(out: Out, node: AnyNode | undefined): void {
  if (node !== undefined) out.push(node);
}

function pushArgs(args: readonly Argument[], out: Out): void {
  for (const arg of args) out.push(arg.value);
}

function pushBindings(bindings: readonly Binding[] | undefined, out: Out): void {
  for (const binding of bindings ?? []) if (binding.defaultValue !== undefined) out.push(binding.defaultValue);
}

function pushSupertype(supertype: Supertype, out: Out): void {
  if (supertype.args !== undefined) pushArgs(supertype.args, out);
  if (supertype.by !== undefined) out.push(supertype.by);
}

function pushArm(arm: Arm, out: Out): void {
  for (const test of arm.tests) {
    if ('when' in test) out.push(test.when);
    else if ('in' in test) out.push(test.in);
  }
  if (arm.guard !== undefined) out.push(arm.guard);
  out.push(arm.body);
}

function pushCatch(caught: Catch, out: Out): void {
  out.push(caught.body);
}
