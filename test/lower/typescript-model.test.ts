/** The tools over the model: the walk, the printed form, and the invariants, which must find what is broken on purpose. */
import { describe, expect, it } from 'vitest';
import { lowerTypeScript } from '../../server/frontend/typescript/index.js';
import * as make from '../../server/ir/build.js';
import { violations } from '../../server/ir/invariants.js';
import { MADE, type AnyNode, type File, type Stmt } from '../../server/ir/ir.js';
import { print } from '../../server/ir/print.js';
import { children, findAll, typesOf, walk } from '../../server/ir/walk.js';

function lower(source: string): File {
  return lowerTypeScript(source, 'a.ts');
}

function namesInOrder(source: string): string {
  return findAll(lower(source), 'Name').map((node) => node.name).join(' ');
}

describe('walking', () => {
  it.each([
    ['arguments after the callee', 'f(a, ...b)[c].d(e);', 'f a b c e'],
    ['a value before the defaults of its pattern', 'const { x = b } = a;', 'a b'],
    ['a loop’s body before its step', 'for (a(); b(); d()) c();', 'a b c d'],
    ['a loop’s test after its body, where it is asked there', 'do a(); while (b);', 'a b'],
    ['what is iterated before what it binds', 'for (const { x = b } of a) c();', 'a b c'],
    ['tests before bodies', 'switch (a) { case b: c(); break; default: d(); }', 'a b c d'],
    ['members in the order of the source', 'class X { p = a; m() { b; } static q = c; constructor(y = d) {} }', 'a b c d'],
    ['spreads among properties', 'use({ x: a, ...b, m() { c; }, y: d });', 'use a b c d'],
    ['try, catch, finally', 'try { a; } catch { b; } finally { c; }', 'a b c'],
    ['decorators first', '@a1(a) class X { @b1(b) m(p = c) { d; } }', 'a b c d'],
    ['values of entries', 'enum X { p = a, q = b }', 'a b'],
  ])('%s', (_, source, order) => {
    expect(namesInOrder(source)).toBe(order);
  });

  it('shows parents before children, and with each its parent', () => {
    const seen: string[] = [];
    walk(lower('use(a);'), (node, parent) => { seen.push(`${parent?.kind ?? 'none'} > ${node.kind}`); });
    expect(seen).toEqual(['none > File', 'File > Block', 'Block > ExprStmt', 'ExprStmt > Call', 'Call > Name', 'Call > Name']);
  });

  it('goes no deeper where the visitor says skip', () => {
    const seen: string[] = [];
    walk(lower('use(() => a, b);'), (node) => {
      if (node.kind === 'Name') seen.push(node.name);
      return node.kind === 'Lambda' ? 'skip' : undefined;
    });
    expect(seen).toEqual(['use', 'b']);
  });

  it('is what children are, all the way down', () => {
    const file = lower('class A { m(a = 1) { if (a) { return; } } }');
    const byChildren = (node: AnyNode): AnyNode[] => [node, ...children(node).flatMap(byChildren)];
    const byWalk: AnyNode[] = [];
    walk(file, (node) => { byWalk.push(node); });
    expect(byWalk).toEqual(byChildren(file));
  });

  it('names the types of a node, not those below it', () => {
    const [fn] = findAll(lower('function f(this: A, b: B): C { g<D>(e as E); }'), 'Fn');
    expect(typesOf(fn!).map((type) => type.name)).toEqual(['A', 'C']);
    expect(findAll(fn!, 'Call').flatMap(typesOf).map((type) => type.name)).toEqual(['D']);
  });
});

describe('printing', () => {
  it('breaks only what does not fit on a line', () => {
    const long = `const a = f(${Array.from({ length: 12 }, (_, i) => `argument${i}`).join(', ')});`;
    expect(print(lower(long)).split('\n').length).toBe(3);
    expect(print(lower('const a = f(b);'))).toBe('(file\n  (let a (call f b)))');
  });

  it('shows no places', () => {
    expect(print(lower('f( a /* one */ )\n'))).toBe(print(lower('f(a);')));
  });

  it('prints made nodes as read ones', () => {
    const made = make.ifThen(make.notEq(make.name('status'), make.literal(0)), [make.throwStmt(make.construct(make.name('Error'), make.literal('x')))]);
    expect(print(made)).toBe(print(lower('if (status !== 0) { throw new Error("x"); }').body.stmts[0]!));
  });
});

describe('invariants', () => {
  const source = 'a(1); b(2);';
  const file = lower(source);
  const [first, second] = file.body.stmts as [Stmt, Stmt];
  const withStmts = (...stmts: Stmt[]): File => ({ ...file, body: { ...file.body, stmts } });

  it.each<[string, File]>([
    ['a child outside of its parent', withStmts({ ...first, span: { start: 0, end: 2 } })],
    ['siblings out of order', withStmts(second, first)],
    ['siblings that overlap', withStmts({ ...first, span: { start: 0, end: 8 } }, second)],
    ['a node that stands twice', withStmts(first, { kind: 'Block', span: MADE, stmts: [first] })],
    ['a backward range', withStmts({ ...first, span: { start: 5, end: 0 } })],
    ['a value of no arm', withStmts({ kind: 'Yield', span: first.span, value: make.name('a') })],
    ['an arm whose value is discarded', withStmts(make.exprStmt({
      kind: 'Choose', span: MADE, branch: make.ifThen(make.name('a'), [make.exprStmt(make.name('b'))]),
    }))],
    ['a file that does not span its text', { ...file, span: { start: 0, end: 3 } }],
    ['comments out of order', { ...file, comments: [{ start: 4, end: 6 }, { start: 1, end: 3 }] }],
    ['a name outside of its member', withStmts(make.exprStmt({
      kind: 'Member', span: { start: 0, end: 1 }, object: make.name('a'), name: 'b', nameSpan: { start: 3, end: 4 },
    }))],
  ])('find %s', (_, broken) => {
    expect(violations(broken, source.length)).not.toEqual([]);
  });

  it('find nothing where nothing is broken, made nodes included', () => {
    expect(violations(file, source.length)).toEqual([]);
    expect(violations(withStmts(first, make.exprStmt(make.call(make.name('c'))), second), source.length)).toEqual([]);
  });
});
