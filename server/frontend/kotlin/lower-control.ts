/** `if`, `when`, `try` and loops, as statements or for their value. */
import type { Arm, Binding, Block, Branch, Catch, Loop, Test, Try } from '../../ir/ir.js';
import { lowerExpr } from './lower-expressions.js';
import { bindingsOf, lowerBody } from './lower-statements.js';
import { lowerType } from './lower-types.js';
import type { Lowering } from './lowering.js';
import type * as tree from './tree.js';

/** Whether the last expression of each arm is taken or thrown away. */
export type Want = 'value' | 'nothing';

export function lowerBranch(l: Lowering, expr: tree.If, want: Want): Branch {
  const arms = expr.arms.map((arm): Arm => ({
    span: arm.span, tests: [{ when: lowerExpr(l, arm.test) }], body: lowerBody(l, arm.body, want),
  }));
  if (expr.otherwise) {
    arms.push({ span: expr.otherwise.span, tests: [], body: lowerBody(l, expr.otherwise.body, want) });
  }
  return { kind: 'Branch', span: expr.span, arms };
}

export function lowerWhen(l: Lowering, expr: tree.When, want: Want): Branch {
  const subject = expr.subject && lowerExpr(l, expr.subject);
  const arms = expr.entries.map((entry): Arm => {
    const tests = entry.tests.map((test) => lowerTest(l, test));
    const guard = entry.guard && lowerExpr(l, entry.guard);
    return { span: entry.span, tests, ...(guard && { guard }), body: lowerBody(l, entry.body, want) };
  });
  return {
    kind: 'Branch', span: expr.span, arms, ...(subject && { subject }),
    ...(expr.subjectName !== undefined && { subjectName: expr.subjectName }),
  };
}

function lowerTest(l: Lowering, test: tree.WhenTest): Test {
  switch (test.of) {
    case 'value': return { when: lowerExpr(l, test.value) };
    case 'is': return { is: lowerType(test.type), ...(test.not && { not: true }) };
    case 'in': return { in: lowerExpr(l, test.value), ...(test.not && { not: true }) };
  }
}

export function lowerTry(l: Lowering, expr: tree.Try, want: Want): Try {
  const body = lowerBody(l, expr.body, want);
  const catches = expr.catches.map((caught): Catch => ({
    span: caught.span,
    ...(caught.param && { param: caught.param.name }),
    ...(caught.param?.type && { type: lowerType(caught.param.type) }),
    body: lowerBody(l, caught.body, want),
  }));
  const last = expr.last && lowerBody(l, expr.last, 'nothing');
  return { kind: 'Try', span: expr.span, body, catches, ...(last && { last }) };
}

/** `label` is the one written before the loop. */
export function lowerLoop(l: Lowering, loop: tree.For | tree.While, label?: string): Loop {
  const named = label !== undefined ? { label } : {};
  if (loop.kind === 'While') return lowerWhile(l, loop, named);
  const source = lowerExpr(l, loop.source);
  const bindings: readonly Binding[] = loop.target ? bindingsOf(loop.target) : [];
  const over = { bindings, source, ...(loop.type && { type: lowerType(loop.type) }) };
  return { kind: 'Loop', span: loop.span, ...named, testFirst: true, over, body: lowerBody(l, loop.body, 'nothing') };
}

/** `while (true)` has no test: it ends by a jump alone. */
function lowerWhile(l: Lowering, loop: tree.While, named: { label?: string }): Loop {
  const lowerBlock = (): Block => lowerBody(l, loop.body, 'nothing');
  const endless = loop.test.kind === 'Literal' && l.textOf(loop.test.span) === 'true';
  if (endless) return { kind: 'Loop', span: loop.span, ...named, testFirst: loop.testFirst, body: lowerBlock() };
  if (loop.testFirst) {
    const test = lowerExpr(l, loop.test);
    return { kind: 'Loop', span: loop.span, ...named, test, testFirst: true, body: lowerBlock() };
  }
  const body = lowerBlock();
  return { kind: 'Loop', span: loop.span, ...named, test: lowerExpr(l, loop.test), testFirst: false, body };
}
