/**
 * Short constructors for the nodes that a fix makes.
 *
 * Everything built here carries the span `MADE`: it stands nowhere in the text,
 * and a writer prints it in the style of its neighbours. Nodes that came from
 * the source may be put inside made ones; a writer copies those verbatim. Front
 * ends do not use this module: their nodes have places.
 */
import {
  MADE, type Argument, type Assign, type Await, type Binary, type BinaryOp, type Block, type Branch, type Call,
  type Expr, type ExprStmt, type Fn, type Index, type Jump, type Lambda, type Let, type ListExpr, type Literal,
  type Member, type Modifier, type Name, type Param, type Return, type Stmt, type This, type Throw, type Try, type Unary,
} from './ir.js';

// ---- Expressions --------------------------------------------------------

export function name(text: string): Name {
  return { kind: 'Name', span: MADE, name: text };
}

/** `names('a', 'b', 'c')` is `a.b.c`. */
export function names(first: string, ...rest: string[]): Name | Member {
  return rest.reduce<Name | Member>((object, part) => member(object, part), name(first));
}

export function thisRef(): This {
  return { kind: 'This', span: MADE, of: 'this' };
}

export function literal(value: Literal['value']): Literal {
  return { kind: 'Literal', span: MADE, value };
}

/** TypeScript's `undefined`; Kotlin's writer prints `null`. */
export function absent(): Literal {
  return { kind: 'Literal', span: MADE, value: null, absent: true };
}

export function member(object: Expr, text: string, safe?: 'step' | 'chain'): Member {
  return { kind: 'Member', span: MADE, object, name: text, nameSpan: MADE, ...(safe && { safe }) };
}

export function index(object: Expr, at: Expr): Index {
  return { kind: 'Index', span: MADE, object, index: at };
}

/** Arguments are plain values; use `argument` for named or spread ones. */
export function call(callee: Expr, ...args: (Expr | Argument)[]): Call {
  return { kind: 'Call', span: MADE, callee, args: args.map(toArgument), typeArgs: [] };
}

export function construct(callee: Expr, ...args: (Expr | Argument)[]): Call {
  return { ...call(callee, ...args), construct: true };
}

export function argument(value: Expr, more: Omit<Argument, 'value'> = {}): Argument {
  return { ...more, value };
}

function toArgument(arg: Expr | Argument): Argument {
  return 'kind' in arg ? { value: arg } : arg;
}

export function not(value: Expr): Unary {
  return { kind: 'Unary', span: MADE, op: '!', value };
}

export function binary(left: Expr, op: BinaryOp, right: Expr): Binary {
  return { kind: 'Binary', span: MADE, op, left, right };
}

export function eq(left: Expr, right: Expr): Binary {
  return binary(left, '==', right);
}

export function notEq(left: Expr, right: Expr): Binary {
  return binary(left, '!=', right);
}

export function awaitExpr(value: Expr): Await {
  return { kind: 'Await', span: MADE, value };
}

export function listExpr(...items: Expr[]): ListExpr {
  return { kind: 'ListExpr', span: MADE, items };
}

export function assign(target: Expr, value: Expr, op?: string): Assign {
  return { kind: 'Assign', span: MADE, target, value, ...(op !== undefined && { op }) };
}

/** A lambda over named parameters; an `Expr` as body is its result, statements are its block. */
export function lambda(params: readonly string[], body: Expr | readonly Stmt[], ...modifiers: Modifier[]): Lambda {
  const fn: Fn = {
    kind: 'Fn', span: MADE, typeParams: [], params: params.map(param), modifiers: new Set(modifiers), annotations: [],
    body: 'kind' in body ? block({ kind: 'Return', span: MADE, value: body, implicit: true }) : block(...body),
  };
  return { kind: 'Lambda', span: MADE, fn };
}

export function param(text: string): Param {
  return { kind: 'Param', span: MADE, name: text };
}

// ---- Statements ---------------------------------------------------------

export function block(...stmts: Stmt[]): Block {
  return { kind: 'Block', span: MADE, stmts };
}

export function exprStmt(expr: Expr): ExprStmt {
  return { kind: 'ExprStmt', span: MADE, expr };
}

export function letStmt(text: string, value: Expr, mutable = false): Let {
  return { kind: 'Let', span: MADE, bindings: [{ name: text, span: MADE, path: [] }], mutable, value };
}

/** `if (test) { then } else { otherwise }`; without `otherwise` there is no else. */
export function ifThen(test: Expr, then: readonly Stmt[], otherwise?: readonly Stmt[]): Branch {
  return {
    kind: 'Branch', span: MADE,
    arms: [
      { span: MADE, tests: [{ when: test }], body: block(...then) },
      ...(otherwise ? [{ span: MADE, tests: [], body: block(...otherwise) }] : []),
    ],
  };
}

export function returnStmt(value?: Expr): Return {
  return { kind: 'Return', span: MADE, ...(value && { value }) };
}

export function throwStmt(value: Expr): Throw {
  return { kind: 'Throw', span: MADE, value };
}

export function jump(to: Jump['to'], label?: string): Jump {
  return { kind: 'Jump', span: MADE, to, ...(label !== undefined && { label }) };
}

/** `try { body } catch (error) { handler } finally { last }`; either of the two latter may be left out. */
export function tryCatch(
  body: readonly Stmt[],
  handler?: { readonly param?: string; readonly body: readonly Stmt[] },
  last?: readonly Stmt[],
): Try {
  return {
    kind: 'Try', span: MADE, body: block(...body),
    catches: handler ? [{ span: MADE, ...(handler.param !== undefined && { param: handler.param }), body: block(...handler.body) }] : [],
    ...(last && { last: block(...last) }),
  };
}
