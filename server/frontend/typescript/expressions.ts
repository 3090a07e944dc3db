/**
 * Expressions. Parentheses leave no trace; what the model has no word for
 * becomes `Unknown` around whatever expressions stand inside it.
 */
import ts from 'typescript';
import type {
  Argument, Arm, Assign, Binary, BinaryOp, Block, Branch, Call, Choose, Expr, Literal, Member, Span, Stmt, Template, TypeRef, Unary,
} from '../../ir/ir.js';
import { MADE } from '../../ir/ir.js';
import { lowerClass, lowerObjectLiteral } from './classes.js';
import { deeper, MAX_DEPTH, spanFrom, spanOf, textOf, type Lowering } from './context.js';
import { lowerFunction } from './functions.js';
import { lowerMarkup } from './markup.js';
import { isAssignedPattern, lowerPatternAssignment } from './patterns.js';
import { lowerType, lowerTypes, namedType } from './types.js';

export function lowerExpr(cx: Lowering, node: ts.Expression): Expr {
  return deeper(cx, node, () => dispatch(cx, node));
}

export function withoutParens(node: ts.Expression): ts.Expression {
  while (ts.isParenthesizedExpression(node)) node = node.expression;
  return node;
}

function dispatch(cx: Lowering, node: ts.Expression): Expr {
  switch (node.kind) {
    case ts.SyntaxKind.Identifier:
    case ts.SyntaxKind.PrivateIdentifier:
      return lowerIdentifier(cx, node as ts.Identifier);
    case ts.SyntaxKind.PropertyAccessExpression:
      return lowerPropertyAccess(cx, node as ts.PropertyAccessExpression);
    case ts.SyntaxKind.ElementAccessExpression: {
      const { expression, argumentExpression, questionDotToken } = node as ts.ElementAccessExpression;
      return {
        kind: 'Index', span: spanOf(cx, node), object: lowerExpr(cx, expression), index: lowerExpr(cx, argumentExpression),
        ...(questionDotToken && { safe: 'chain' }),
      };
    }
    case ts.SyntaxKind.CallExpression: return lowerCall(cx, node as ts.CallExpression);
    case ts.SyntaxKind.NewExpression: return lowerNew(cx, node as ts.NewExpression);
    case ts.SyntaxKind.TaggedTemplateExpression: return lowerTagged(cx, node as ts.TaggedTemplateExpression);
    case ts.SyntaxKind.ParenthesizedExpression: return lowerExpr(cx, (node as ts.ParenthesizedExpression).expression);

    case ts.SyntaxKind.StringLiteral:
    case ts.SyntaxKind.NoSubstitutionTemplateLiteral:
      return literal(cx, node, (node as ts.StringLiteralLike).text);
    case ts.SyntaxKind.NumericLiteral: return literal(cx, node, Number((node as ts.NumericLiteral).text));
    case ts.SyntaxKind.BigIntLiteral: return literal(cx, node, bigintValue((node as ts.BigIntLiteral).text));
    case ts.SyntaxKind.TrueKeyword: return literal(cx, node, true);
    case ts.SyntaxKind.FalseKeyword: return literal(cx, node, false);
    case ts.SyntaxKind.NullKeyword: return literal(cx, node, null);
    case ts.SyntaxKind.TemplateExpression: return lowerTemplate(cx, node as ts.TemplateExpression);
    case ts.SyntaxKind.ArrayLiteralExpression:
      return { kind: 'ListExpr', span: spanOf(cx, node), items: lowerAll(cx, (node as ts.ArrayLiteralExpression).elements) };
    case ts.SyntaxKind.OmittedExpression: return { ...literal(cx, node, null), absent: true };
    case ts.SyntaxKind.ObjectLiteralExpression:
      return { kind: 'ObjectExpr', span: spanOf(cx, node), body: lowerObjectLiteral(cx, node as ts.ObjectLiteralExpression) };
    case ts.SyntaxKind.ClassExpression:
      return { kind: 'ObjectExpr', span: spanOf(cx, node), body: lowerClass(cx, node as ts.ClassExpression) };
    case ts.SyntaxKind.ArrowFunction:
    case ts.SyntaxKind.FunctionExpression:
      return { kind: 'Lambda', span: spanOf(cx, node), fn: lowerFunction(cx, node as ts.ArrowFunction | ts.FunctionExpression) };

    case ts.SyntaxKind.ThisKeyword: return { kind: 'This', span: spanOf(cx, node), of: 'this' };
    case ts.SyntaxKind.SuperKeyword: return { kind: 'This', span: spanOf(cx, node), of: 'super' };
    case ts.SyntaxKind.ImportKeyword: return { kind: 'Name', span: spanOf(cx, node), name: 'import' };
    case ts.SyntaxKind.MetaProperty: return lowerMetaProperty(cx, node as ts.MetaProperty);

    case ts.SyntaxKind.BinaryExpression: return lowerBinary(cx, node as ts.BinaryExpression);
    case ts.SyntaxKind.PrefixUnaryExpression: return lowerPrefix(cx, node as ts.PrefixUnaryExpression);
    case ts.SyntaxKind.PostfixUnaryExpression: {
      const { operand, operator } = node as ts.PostfixUnaryExpression;
      return { ...step(cx, node, operand, operator), postfix: true };
    }
    case ts.SyntaxKind.TypeOfExpression: return unary(cx, node, 'typeof', (node as ts.TypeOfExpression).expression);
    case ts.SyntaxKind.DeleteExpression: return unary(cx, node, 'delete', (node as ts.DeleteExpression).expression);
    case ts.SyntaxKind.VoidExpression: return lowerVoid(cx, node as ts.VoidExpression);
    case ts.SyntaxKind.SpreadElement: return unary(cx, node, '...', (node as ts.SpreadElement).expression);
    case ts.SyntaxKind.NonNullExpression: return unary(cx, node, '!!', (node as ts.NonNullExpression).expression);
    case ts.SyntaxKind.AwaitExpression:
      return { kind: 'Await', span: spanOf(cx, node), value: lowerExpr(cx, (node as ts.AwaitExpression).expression) };
    case ts.SyntaxKind.YieldExpression: {
      const { expression, asteriskToken } = node as ts.YieldExpression;
      return {
        kind: 'Emit', span: spanOf(cx, node),
        ...(expression && { value: lowerExpr(cx, expression) }), ...(asteriskToken && { all: true }),
      };
    }
    case ts.SyntaxKind.ConditionalExpression: return lowerConditional(cx, node as ts.ConditionalExpression);
    case ts.SyntaxKind.AsExpression:
    case ts.SyntaxKind.SatisfiesExpression:
    case ts.SyntaxKind.TypeAssertionExpression:
      return lowerCast(cx, node as ts.AsExpression | ts.SatisfiesExpression | ts.TypeAssertion);
    case ts.SyntaxKind.ExpressionWithTypeArguments: return lowerExpr(cx, (node as ts.ExpressionWithTypeArguments).expression);

    case ts.SyntaxKind.JsxElement:
    case ts.SyntaxKind.JsxSelfClosingElement:
    case ts.SyntaxKind.JsxFragment:
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
  const closing = node.kind === ts.SyntaxKind.TemplateTail ? 1 : 2;
  const inner: Span = { start: Math.min(start + 1, end), end: Math.max(end - (node.isUnterminated ? 0 : closing), Math.min(start + 1, end)) };
  parts.push({ kind: 'Literal', span: inner, value: node.text });
}

function lowerMetaProperty(cx: Lowering, node: ts.MetaProperty): Member {
  const start = node.getStart(cx.sf);
  const keyword = node.keywordToken === ts.SyntaxKind.ImportKeyword ? 'import' : 'new';
  return {
    kind: 'Member', span: { start, end: node.end }, name: node.name.text, nameSpan: spanOf(cx, node.name),
    object: { kind: 'Name', span: { start, end: start + keyword.length }, name: keyword },
  };
}

// ---- Access and calls ---------------------------------------------------

function lowerPropertyAccess(cx: Lowering, node: ts.PropertyAccessExpression): Member {
  return {
    kind: 'Member', span: spanOf(cx, node), object: lowerExpr(cx, node.expression),
    name: node.name.text, nameSpan: spanOf(cx, node.name), ...(node.questionDotToken && { safe: 'chain' }),
  };
}

export function lowerArguments(cx: Lowering, args: readonly ts.Expression[] | undefined): Argument[] {
  if (args === undefined) return [];
  return args.map((arg) => (ts.isSpreadElement(arg) ? { value: lowerExpr(cx, arg.expression), spread: true } : { value: lowerExpr(cx, arg) }));
}

function lowerCall(cx: Lowering, node: ts.CallExpression): Call {
  return {
    kind: 'Call', span: spanOf(cx, node), callee: lowerExpr(cx, node.expression), args: lowerArguments(cx, node.arguments),
    typeArgs: lowerTypes(cx, node.typeArguments), ...(node.questionDotToken && { safe: 'chain' }),
  };
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
  [ts.SyntaxKind.PlusToken, '+'], [ts.SyntaxKind.MinusToken, '-'], [ts.SyntaxKind.AsteriskToken, '*'],
  [ts.SyntaxKind.SlashToken, '/'], [ts.SyntaxKind.PercentToken, '%'], [ts.SyntaxKind.AsteriskAsteriskToken, '**'],
  [ts.SyntaxKind.AmpersandToken, '&'], [ts.SyntaxKind.BarToken, '|'], [ts.SyntaxKind.CaretToken, '^'],
  [ts.SyntaxKind.LessThanLessThanToken, '<<'], [ts.SyntaxKind.GreaterThanGreaterThanToken, '>>'],
  [ts.SyntaxKind.GreaterThanGreaterThanGreaterThanToken, '>>>'],
  [ts.SyntaxKind.EqualsEqualsToken, '=='], [ts.SyntaxKind.EqualsEqualsEqualsToken, '=='],
  [ts.SyntaxKind.ExclamationEqualsToken, '!='], [ts.SyntaxKind.ExclamationEqualsEqualsToken, '!='],
  [ts.SyntaxKind.LessThanToken, '<'], [ts.SyntaxKind.LessThanEqualsToken, '<='],
  [ts.SyntaxKind.GreaterThanToken, '>'], [ts.SyntaxKind.GreaterThanEqualsToken, '>='],
  [ts.SyntaxKind.AmpersandAmpersandToken, '&&'], [ts.SyntaxKind.BarBarToken, '||'], [ts.SyntaxKind.QuestionQuestionToken, '??'],
  [ts.SyntaxKind.InKeyword, 'in'], [ts.SyntaxKind.CommaToken, ','],
]);

const ASSIGNMENT_OPS: ReadonlyMap<ts.SyntaxKind, string> = new Map([
  [ts.SyntaxKind.PlusEqualsToken, '+'], [ts.SyntaxKind.MinusEqualsToken, '-'], [ts.SyntaxKind.AsteriskEqualsToken, '*'],
  [ts.SyntaxKind.AsteriskAsteriskEqualsToken, '**'], [ts.SyntaxKind.SlashEqualsToken, '/'], [ts.SyntaxKind.PercentEqualsToken, '%'],
  [ts.SyntaxKind.LessThanLessThanEqualsToken, '<<'], [ts.SyntaxKind.GreaterThanGreaterThanEqualsToken, '>>'],
  [ts.SyntaxKind.GreaterThanGreaterThanGreaterThanEqualsToken, '>>>'], [ts.SyntaxKind.AmpersandEqualsToken, '&'],
  [ts.SyntaxKind.BarEqualsToken, '|'], [ts.SyntaxKind.CaretEqualsToken, '^'], [ts.SyntaxKind.BarBarEqualsToken, '||'],
  [ts.SyntaxKind.AmpersandAmpersandEqualsToken, '&&'], [ts.SyntaxKind.QuestionQuestionEqualsToken, '??'],
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
  const start = node.getStart(cx.sf);
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
  if (operator === ts.SyntaxKind.EqualsToken) {
    if (isAssignedPattern(node.left)) return lowerPatternAssignment(cx, node);
    return { kind: 'Assign', span: spanOf(cx, node), target: lowerExpr(cx, node.left), value: lowerExpr(cx, node.right) };
  }
  const op = ASSIGNMENT_OPS.get(operator);
  if (op !== undefined) {
    return { kind: 'Assign', span: spanOf(cx, node), target: lowerExpr(cx, node.left), op, value: lowerExpr(cx, node.right) };
  }
  if (operator === ts.SyntaxKind.InstanceOfKeyword) {
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
  [ts.SyntaxKind.ExclamationToken, '!'], [ts.SyntaxKind.MinusToken, '-'], [ts.SyntaxKind.PlusToken, '+'], [ts.SyntaxKind.TildeToken, '~'],
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
    kind: 'Assign', span: spanOf(cx, node), target: lowerExpr(cx, operand), op: operator === ts.SyntaxKind.PlusPlusToken ? '+' : '-',
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
