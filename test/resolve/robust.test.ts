/**
 * What holds of every program: answers do not depend on the order of the questions, and damaged text makes no answer
 * fail. The programs are the cases and samples of this folder, whole and cut.
 */
import { readdirSync } from 'node:fs';
import fc from 'fast-check';
import { expect, it } from 'vitest';
import type { AnyNode, Expr, File } from '../../server/ir/ir.js';
import { walk } from '../../server/ir/walk.js';
import { link, resolver, show, type Resolver } from '../../server/resolve/index.js';
import { fnText, lower, readCases, type Case } from './marks.js';

const folder = new URL('cases/', import.meta.url);
const programs: readonly Case[] = [
  ...readdirSync(folder).sort().flatMap((name) => readCases(new URL(name, folder))),
  ...readCases(new URL('web-samples.md', import.meta.url)),
];

const EXPRESSIONS = new Set<AnyNode['kind']>([
  'Literal', 'Template', 'Name', 'This', 'Member', 'Index', 'Call', 'Lambda', 'FnRef', 'ObjectExpr', 'ListExpr', 'Unary', 'Binary', 'Choose',
  'Leave', 'Await', 'Cast', 'Unknown',
]);

function nodesOf(files: readonly File[]): AnyNode[] {
  const nodes: AnyNode[] = [];
  for (const file of files) walk(file, (node) => { nodes.push(node); });
  return nodes;
}

/** One line for each question about a node. */
function ask(asked: Resolver, node: AnyNode): string {
  if (node.kind === 'Fn') return `${show(asked.resultOf(node))} ${asked.isPlatformCallback(node)?.member.name ?? ''} ${asked.callersOf(node).length}`;
  if (node.kind === 'Param') return show(asked.typeOfParam(node));
  if (node.kind === 'Field') return show(asked.typeOfField(node));
  if (node.kind === 'Class') return `${asked.platformOf(node)?.name} ${asked.subclassesOf(node).length}`;
  if (!EXPRESSIONS.has(node.kind)) return '';
  const expr = node as Expr;
  const callee = expr.kind === 'Call' ? asked.calleeOf(expr) : undefined;
  const called = callee && `${callee.fns.map((fn) => fnText(asked, fn)).join()} ${callee.members.map((member) => member.name).join()} ${callee.complete}`;
  const { constants } = asked;
  const values = [constants.text(expr), constants.whole(expr), constants.uuid(expr), constants.bytes(expr)?.join(), constants.byteLength(expr)?.max, constants.items(expr)?.length];
  return [show(asked.typeOf(expr)), called, asked.functionValue(expr)?.length, ...values].join(' ');
}

function answers(one: Case, order: (nodes: AnyNode[]) => AnyNode[]): Map<AnyNode, string> {
  const files = one.files.map(lower);
  const asked = resolver(link(files));
  const nodes = nodesOf(files);
  const byNode = new Map<AnyNode, string>();
  for (const node of order([...nodes])) byNode.set(node, ask(asked, node));
  return new Map(nodes.map((node) => [node, byNode.get(node)!]));
}

it('answers do not depend on the order of the questions', () => {
  const orders: ((nodes: AnyNode[]) => AnyNode[])[] = [(nodes) => nodes.reverse(), (nodes) => interleaved(nodes, 7), (nodes) => interleaved(nodes, 13)];
  for (const one of programs) {
    const forward = [...answers(one, (nodes) => nodes).values()];
    for (const order of orders) expect([...answers(one, order).values()], one.title).toEqual(forward);
  }
});

/** Every `step`-th, then the ones beside them. */
function interleaved<T>(items: readonly T[], step: number): T[] {
  return Array.from({ length: step }, (_, offset) => items.filter((_item, i) => i % step === offset)).flat();
}

it('damaged text makes no answer fail', () => {
  const shareUpTo = (max: number): fc.Arbitrary<number> => fc.double({ min: 0, max, noNaN: true });
  fc.assert(fc.property(fc.constantFrom(...programs), shareUpTo(1), shareUpTo(0.2), (one, at, share) => {
    const damaged: Case = {
      title: one.title,
      files: one.files.map(({ path, text }) => {
        const start = Math.floor(text.length * at);
        return { path, text: text.slice(0, start) + text.slice(start + Math.ceil(text.length * share)) };
      }),
    };
    answers(damaged, (nodes) => nodes);
  }), { numRuns: 150, seed: 1 });
});
