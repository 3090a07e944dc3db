/**
 * Expressions. Parentheses leave no trace; what the model has no word for
 * becomes `Unknown` around whatever expressions stand inside it.
 */
import ts from 'typescript';
import type {
  Argument, Arm, Assign, Binary, BinaryOp, Block, Branch, Call, Choose, Expr, Index, Literal, Member, Span, Stmt, Template, TypeRef, Unary,
} from '../../ir/ir.js';
import { MADE } from '../../ir/ir.js';
import { lowerClass, lowerObjectLiteral } from './classes.js';
import { giveUp, MAX_DEPTH, spanFrom, spanOf, startOf, textOf, type Building, type Lowering } from './context.js';
import { lowerFunction } from './functions.js';
import { lowerMarkup } from './markup.js';
import { isAssignedPattern, lowerPatternAssignment } from './patterns.js';
import { lowerType, lowerTypes, namedType } from './types.js';

/** Taken out once: the library hands each of its names out through a getter. */
const { SyntaxKind } = ts;

export function lowerExpr(cx: Lowering, node: ts.Expression): Expr {
  if (cx.depth >= MAX_DEPTH) return giveUp(cx, node);
  cx.depth++;
  const expr = dispatch(cx, node);
  cx.depth--;
  return expr;
}

export function withoutParens(node: ts.Expression): ts.Expression {
  while (ts.isParenthesizedExpression(node)) node = node.expression;
  return node;
}

function dispatch(cx: Lowering, node: ts.Expression): Expr {
  switch (node.kind) {
    case SyntaxKind.Identifier:
    case SyntaxKind.PrivateIdentifier:
      return lowerIdentifier(cx, node as ts.Identifier);
    case SyntaxKind.PropertyAccessExpression:
      return lowerPropertyAccess(cx, node as ts.PropertyAccessExpression);
    case SyntaxKind.ElementAccessExpression:
      return lowerElementAccess(cx, node as ts.ElementAccessExpression);
    case SyntaxKind.CallExpression: return lowerCall(cx, node as ts.CallExpression);
    case SyntaxKind.NewExpression: return lowerNew(cx, node as ts.NewExpression);
    case SyntaxKind.TaggedTemplateExpression: return lowerTagged(cx, node as ts.TaggedTemplateExpression);
    case SyntaxKind.ParenthesizedExpression: return lowerExpr(cx, (node as ts.ParenthesizedExpression).expression);

    case SyntaxKind.StringLiteral:
    case SyntaxKind.NoSubstitutionTemplateLiteral:
      return literal(cx, node, (node as ts.StringLiteralLike).text);
    case SyntaxKind.NumericLiteral: return literal(cx, node, Number((node as ts.NumericLiteral).text));
    case SyntaxKind.BigIntLiteral: return literal(cx, node, bigintValue((node as ts.BigIntLiteral).text));
    case SyntaxKind.TrueKeyword: return literal(cx, node, true);
    case SyntaxKind.FalseKeyword: return literal(cx, node, false);
    case SyntaxKind.NullKeyword: return literal(cx, node, null);
    case SyntaxKind.TemplateExpression: return lowerTemplate(cx, node as ts.TemplateExpression);
    case SyntaxKind.ArrayLiteralExpression:
      return { kind: 'ListExpr', span: spanOf(cx, node), items: lowerAll(cx, (node as ts.ArrayLiteralExpression).elements) };
    case SyntaxKind.OmittedExpression: return { ...literal(cx, node, null), absent: true };
    case SyntaxKind.ObjectLiteralExpression:
      return { kind: 'ObjectExpr', span: spanOf(cx, node), body: lowerObjectLiteral(cx, node as ts.ObjectLiteralExpression) };
    case SyntaxKind.ClassExpression:
      return { kind: 'ObjectExpr', span: spanOf(cx, node), body: lowerClass(cx, node as ts.ClassExpression) };
    case SyntaxKind.ArrowFunction:
    case SyntaxKind.FunctionExpression:
      return { kind: 'Lambda', span: spanOf(cx, node), fn: lowerFunction(cx, node as ts.ArrowFunction | ts.FunctionExpression) };

    case SyntaxKind.ThisKeyword: return { kind: 'This', span: spanOf(cx, node), of: 'this' };
    case SyntaxKind.SuperKeyword: return { kind: 'This', span: spanOf(cx, node), of: 'super' };
    case SyntaxKind.ImportKeyword: return { kind: 'Name', span: spanOf(cx, node), name: 'import' };
    case SyntaxKind.MetaProperty: return lowerMetaProperty(cx, node as ts.MetaProperty);

    case SyntaxKind.BinaryExpression: return lowerBinary(cx, node as ts.BinaryExpression);
    case SyntaxKind.PrefixUnaryExpression: return lowerPrefix(cx, node as ts.PrefixUnaryExpression);
    case SyntaxKind.PostfixUnaryExpression: {
      const { operand, operator } = node as ts.PostfixUnaryExpression;
      return { ...step(cx, node, operand, operator), postfix: true };
    }
    case SyntaxKind.TypeOfExpression: return unary(cx, node, 'typeof', (node as ts.TypeOfExpression).expression);
    case SyntaxKind.DeleteExpression: return unary(cx, node, 'delete', (node as ts.DeleteExpression).expression);
    case SyntaxKind.VoidExpression: return lowerVoid(cx, node as ts.VoidExpression);
    case SyntaxKind.SpreadElement: return unary(cx, node, '...', (node as ts.SpreadElement).expression);
    case SyntaxKind.NonNullExpression: return unary(cx, node, '!!', (node as ts.NonNullExpression).expression);
    case SyntaxKind.AwaitExpression:
      return { kind: 'Await', span: spanOf(cx, node), value: lowerExpr(cx, (node as ts.AwaitExpression).expression) };
    case SyntaxKind.YieldExpression: {
      const { expression, asteriskToken } = node as ts.YieldExpression;
      return {
        kind: 'Emit', span: spanOf(cx, node),
        ...(expression && { value: lowerExpr(cx, expression) }), ...(asteriskToken && { all: true }),
      };
    }
    case SyntaxKind.ConditionalExpression: return lowerConditional(cx, node as ts.ConditionalExpression);
    case SyntaxKind.AsExpression:
    case SyntaxKind.SatisfiesExpression:
    case SyntaxKind.TypeAssertionExpression:
      return lowerCast(cx, node as ts.AsExpression | ts.SatisfiesExpression | ts.TypeAssertion);
    case SyntaxKind.ExpressionWithTypeArguments: return lowerExpr(cx, (node as ts.ExpressionWithTypeArguments).expression);

    case SyntaxKind.JsxElement:
    case SyntaxKind.JsxSelfClosingElement:
    case SyntaxKind.JsxFragment:
      return lowerMarkup(cx, node as ts.JsxElement | ts.JsxSelfClosingElement | ts.JsxFragment);
    default:
      return unknownAround(cx, node);
  }
}

function lowerAll(cx: Lowering, nodes: readonly ts.Expression[]): Expr[] {
  return nodes.map((node) => lowerExpr(cx, node));
}

function unknownAround(cx: Lowering, node: ts.Node): Expr {
  const children: Expr[] = [];
  ts.forEachChild(node, (child) => {
    if (ts.isExpression(child)) children.push(lowerExpr(cx, child));
  });
  return { kind: 'Unknown', span: spanOf(cx, node), children };
}

// ---- Names and literals -------------------------------------------------

function lowerIdentifier(cx: Lowering, node: ts.Identifier): Expr {
  const span = spanOf(cx, node);
  if (node.text === 'undefined') return { kind: 'Literal', span, value: null, absent: true };
  return { kind: 'Name', span, name: node.text };
}

function literal(cx: Lowering, node: ts.Node, value: Literal['value']): Literal {
  return { kind: 'Literal', span: spanOf(cx, node), value };
}

/** The scanner hands out decimal text with its `n`, whatever base the source is written in. */
function bigintValue(text: string): bigint {
  try {
    return BigInt(text.replace(/n$/, ''));
  } catch {
    return 0n;
  }
}

function lowerTemplate(cx: Lowering, node: ts.TemplateExpression): Template {
  const parts: Expr[] = [];
  pushTemplateText(cx, node.head, parts);
  for (const span of node.templateSpans) {
    parts.push(lowerExpr(cx, span.expression));
    pushTemplateText(cx, span.literal, parts);
  }
  return { kind: 'Template', span: spanOf(cx, node), parts };
}

function pushTemplateText(cx: Lowering, node: ts.TemplateHead | ts.TemplateMiddle | ts.TemplateTail, parts: Expr[]): void {
  if (node.text === '') return;
  const { start, end } = spanOf(cx, node);
  const closing = node.kind === SyntaxKind.TemplateTail ? 1 : 2;
  const inner: Span = { start: Math.min(start + 1, end), end: Math.max(end - (node.isUnterminated ? 0 : closing), Math.min(start + 1, end)) };
  parts.push({ kind: 'Literal', span: inner, value: node.text });
}

function lowerMetaProperty(cx: Lowering, node: ts.MetaProperty): Member {
  const start = startOf(cx, node);
  const keyword = node.keywordToken === SyntaxKind.ImportKeyword ? 'import' : 'new';
  return {
    kind: 'Member', span: { start, end: node.end }, name: node.name.text, nameSpan: spanOf(cx, node.name),
    object: { kind: 'Name', span: { start, end: start + keyword.length }, name: keyword },
  };
}

// ---- Access and calls ---------------------------------------------------

function lowerPropertyAccess(cx: Lowering, node: ts.PropertyAccessExpression): Member {
  const member: Building<Member> = {
    kind: 'Member', span: spanOf(cx, node), object: lowerExpr(cx, node.expression), name: node.name.text, nameSpan: spanOf(cx, node.name),
  };
  if (node.questionDotToken !== undefined) member.safe = 'chain';
  return member;
}

function lowerElementAccess(cx: Lowering, node: ts.ElementAccessExpression): Index {
  const index: Building<Index> = {
    kind: 'Index', span: spanOf(cx, node), object: lowerExpr(cx, node.expression), index: lowerExpr(cx, node.argumentExpression),
  };
  if (node.questionDotToken !== undefined) index.safe = 'chain';
  return index;
}

export function lowerArguments(cx: Lowering, args: readonly ts.Expression[] | undefined): Argument[] {
  if (args === undefined) return [];
  return args.map((arg) => (ts.isSpreadElement(arg) ? { value: lowerExpr(cx, arg.expression), spread: true } : { value: lowerExpr(cx, arg) }));
}

function lowerCall(cx: Lowering, node: ts.CallExpression): Call {
  const call: Building<Call> = {
    kind: 'Call', span: spanOf(cx, node), callee: lowerExpr(cx, node.expression), args: lowerArguments(cx, node.arguments),
    typeArgs: lowerTypes(cx, node.typeArguments),
  };
  if (node.questionDotToken !== undefined) call.safe = 'chain';
  return call;
}

function lowerNew(cx: Lowering, node: ts.NewExpression): Call {
  return {
    kind: 'Call', span: spanOf(cx, node), callee: lowerExpr(cx, node.expression), args: lowerArguments(cx, node.arguments),
    typeArgs: lowerTypes(cx, node.typeArguments), construct: true,
  };
}

function lowerTagged(cx: Lowering, node: ts.TaggedTemplateExpression): Call {
  return {
    kind: 'Call', span: spanOf(cx, node), callee: lowerExpr(cx, node.tag), args: [{ value: lowerExpr(cx, node.template) }],
    typeArgs: lowerTypes(cx, node.typeArguments),
  };
}

// ---- Operators ----------------------------------------------------------

const BINARY_OPS: ReadonlyMap<ts.SyntaxKind, BinaryOp> = new Map<ts.SyntaxKind, BinaryOp>([
  [SyntaxKind.PlusToken, '+'], [SyntaxKind.MinusToken, '-'], [SyntaxKind.AsteriskToken, '*'],
  [SyntaxKind.SlashToken, '/'], [SyntaxKind.PercentToken, '%'], [SyntaxKind.AsteriskAsteriskToken, '**'],
  [SyntaxKind.AmpersandToken, '&'], [SyntaxKind.BarToken, '|'], [SyntaxKind.CaretToken, '^'],
  [SyntaxKind.LessThanLessThanToken, '<<'], [SyntaxKind.GreaterThanGreaterThanToken, '>>'],
  [SyntaxKind.GreaterThanGreaterThanGreaterThanToken, '>>>'],
  [SyntaxKind.EqualsEqualsToken, '=='], [SyntaxKind.EqualsEqualsEqualsToken, '=='],
  [SyntaxKind.ExclamationEqualsToken, '!='], [SyntaxKind.ExclamationEqualsEqualsToken, '!='],
  [SyntaxKind.LessThanToken, '<'], [SyntaxKind.LessThanEqualsToken, '<='],
  [SyntaxKind.GreaterThanToken, '>'], [SyntaxKind.GreaterThanEqualsToken, '>='],
  [SyntaxKind.AmpersandAmpersandToken, '&&'], [SyntaxKind.BarBarToken, '||'], [SyntaxKind.QuestionQuestionToken, '??'],
  [SyntaxKind.InKeyword, 'in'], [SyntaxKind.CommaToken, ','],
]);

const ASSIGNMENT_OPS: ReadonlyMap<ts.SyntaxKind, string> = new Map([
  [SyntaxKind.PlusEqualsToken, '+'], [SyntaxKind.MinusEqualsToken, '-'], [SyntaxKind.AsteriskEqualsToken, '*'],
  [SyntaxKind.AsteriskAsteriskEqualsToken, '**'], [SyntaxKind.SlashEqualsToken, '/'], [SyntaxKind.PercentEqualsToken, '%'],
  [SyntaxKind.LessThanLessThanEqualsToken, '<<'], [SyntaxKind.GreaterThanGreaterThanEqualsToken, '>>'],
  [SyntaxKind.GreaterThanGreaterThanGreaterThanEqualsToken, '>>>'], [SyntaxKind.AmpersandEqualsToken, '&'],
  [SyntaxKind.BarEqualsToken, '|'], [SyntaxKind.CaretEqualsToken, '^'], [SyntaxKind.BarBarEqualsToken, '||'],
  [SyntaxKind.AmpersandAmpersandEqualsToken, '&&'], [SyntaxKind.QuestionQuestionEqualsToken, '??'],
]);

/** Left-nested chains (`a + b + c …`) are unrolled, for generated text makes them thousands long. */
function lowerBinary(cx: Lowering, node: ts.BinaryExpression): Expr {
  const spine: ts.BinaryExpression[] = [];
  let first: ts.Expression = node;
  while (ts.isBinaryExpression(first) && BINARY_OPS.has(first.operatorToken.kind)) {
    spine.push(first);
    first = first.left;
  }
  if (spine.length === 0) return lowerOtherBinary(cx, node);
  if (cx.depth + spine.length >= MAX_DEPTH) {
    return { kind: 'Unknown', span: spanOf(cx, node), children: [first, ...spine.reverse().map((link) => link.right)].map((link) => lowerExpr(cx, link)) };
  }
  cx.depth += spine.length;
  let left = lowerExpr(cx, first);
  const start = startOf(cx, node);
  for (const link of spine.reverse()) {
    cx.depth--;
    const joined: Binary = {
      kind: 'Binary', span: { start, end: link.end }, op: BINARY_OPS.get(link.operatorToken.kind)!, left, right: lowerExpr(cx, link.right),
    };
    left = joined;
  }
  return left;
}

function lowerOtherBinary(cx: Lowering, node: ts.BinaryExpression): Expr {
  const operator = node.operatorToken.kind;
  if (operator === SyntaxKind.EqualsToken) {
    if (isAssignedPattern(node.left)) return lowerPatternAssignment(cx, node);
    return { kind: 'Assign', span: spanOf(cx, node), target: lowerExpr(cx, node.left), value: lowerExpr(cx, node.right) };
  }
  const op = ASSIGNMENT_OPS.get(operator);
  if (op !== undefined) {
    return { kind: 'Assign', span: spanOf(cx, node), target: lowerExpr(cx, node.left), op, value: lowerExpr(cx, node.right) };
  }
  if (operator === SyntaxKind.InstanceOfKeyword) {
    const type = typeNamed(cx, node.right);
    if (type !== undefined) return { kind: 'Is', span: spanOf(cx, node), value: lowerExpr(cx, node.left), type };
  }
  return unknownAround(cx, node);
}

/** The type that an expression names, as the right side of `instanceof` does; undefined where it is computed. */
export function typeNamed(cx: Lowering, node: ts.Expression): TypeRef | undefined {
  const isName = (part: ts.Expression): boolean => ts.isIdentifier(part) || (ts.isPropertyAccessExpression(part) && isName(part.expression));
  return isName(node) ? namedType(spanOf(cx, node), textOf(cx, node), []) : undefined;
}

const PREFIX_OPS: ReadonlyMap<ts.SyntaxKind, Unary['op']> = new Map<ts.SyntaxKind, Unary['op']>([
  [SyntaxKind.ExclamationToken, '!'], [SyntaxKind.MinusToken, '-'], [SyntaxKind.PlusToken, '+'], [SyntaxKind.TildeToken, '~'],
]);

function lowerPrefix(cx: Lowering, node: ts.PrefixUnaryExpression): Expr {
  const op = PREFIX_OPS.get(node.operator);
  return op === undefined ? step(cx, node, node.operand, node.operator) : unary(cx, node, op, node.operand);
}

function unary(cx: Lowering, node: ts.Node, op: Unary['op'], value: ts.Expression): Unary {
  return { kind: 'Unary', span: spanOf(cx, node), op, value: lowerExpr(cx, value) };
}

/** `x++` and `--x`. */
function step(cx: Lowering, node: ts.Node, operand: ts.Expression, operator: ts.SyntaxKind): Assign {
  return {
    kind: 'Assign', span: spanOf(cx, node), target: lowerExpr(cx, operand), op: operator === SyntaxKind.PlusPlusToken ? '+' : '-',
    value: { kind: 'Literal', span: MADE, value: 1 },
  };
}

function lowerVoid(cx: Lowering, node: ts.VoidExpression): Expr {
  if (ts.isNumericLiteral(node.expression)) return { ...literal(cx, node, null), absent: true };
  return unary(cx, node, 'void', node.expression);
}

/** `a ? b : c ? d : e` is one branch of three arms, as an else-if chain is. */
function lowerConditional(cx: Lowering, node: ts.ConditionalExpression): Choose {
  const span = spanOf(cx, node);
  return { kind: 'Choose', span, branch: conditionalBranch(cx, node, span, (value) => ({ kind: 'Yield', span: spanOf(cx, value), value: lowerExpr(cx, value) })) };
}

/** The branch that `? :` is; `arm` makes the statement in which each of its values ends. */
export function conditionalBranch(cx: Lowering, node: ts.ConditionalExpression, span: Span, arm: (value: ts.Expression) => Stmt): Branch {
  const arms: Arm[] = [];
  const armBlock = (value: ts.Expression): Block => ({ kind: 'Block', span: spanOf(cx, value), stmts: [arm(value)] });
  let rest: ts.Expression = node;
  for (; ts.isConditionalExpression(rest); rest = rest.whenFalse) {
    const test = lowerExpr(cx, rest.condition);
    arms.push({ span: spanFrom(cx, rest, rest.whenTrue), tests: [{ when: test }], body: armBlock(rest.whenTrue) });
  }
  arms.push({ span: spanOf(cx, rest), tests: [], body: armBlock(rest) });
  return { kind: 'Branch', span, arms };
}

/** `as const` changes no type that the model knows, so it leaves no trace. */
function lowerCast(cx: Lowering, node: ts.AsExpression | ts.SatisfiesExpression | ts.TypeAssertion): Expr {
  if (ts.isConstTypeReference(node.type)) return lowerExpr(cx, node.expression);
  return { kind: 'Cast', span: spanOf(cx, node), value: lowerExpr(cx, node.expression), type: lowerType(cx, node.type) };
}
