/** Functions of every sort: declared, anonymous, lambdas, accessors, constructors. */
import type { Block, Call, Fn, Lambda, Modifier, Param, Span } from '../../ir/ir.js';
import { lowerAnnotations } from './lower-annotations.js';
import { lowerArguments, lowerExpr } from './lower-expressions.js';
import { bindingsOf, lowerStmts } from './lower-statements.js';
import { lowerType } from './lower-types.js';
import type { Lowering } from './lowering.js';
import type * as tree from './tree.js';

/** Modifiers that the model knows; the others (`public`, `final`, `enum`, …) say nothing to it. */
const MODEL_MODIFIERS: ReadonlySet<string> = new Set<Modifier>([
  'override', 'suspend', 'abstract', 'open', 'private', 'protected', 'internal', 'inline', 'operator', 'infix', 'lateinit',
  'const', 'data', 'sealed', 'inner', 'tailrec', 'external', 'actual', 'expect', 'noinline', 'crossinline', 'vararg', 'value',
]);

export function lowerModifiers(modifiers: tree.Modifiers, ...more: Modifier[]): ReadonlySet<Modifier> {
  const known = modifiers.words.filter((word): word is Modifier => MODEL_MODIFIERS.has(word));
  return new Set([...known, ...more]);
}

export function lowerFunction(l: Lowering, decl: tree.FunDecl, ...more: Modifier[]): Fn {
  const params = [...lowerParams(l, decl.params), ...lowerContext(decl.modifiers)];
  const body = lowerFunctionBody(l, decl.body);
  return {
    kind: 'Fn', span: decl.span,
    ...(decl.name && { name: decl.name.name, nameSpan: decl.name.span }),
    headSpan: { start: headStart(decl), end: decl.headEnd },
    ...(decl.receiver && { receiver: lowerType(decl.receiver) }),
    typeParams: decl.typeParams, params,
    ...(decl.result && { result: lowerType(decl.result) }),
    modifiers: lowerModifiers(decl.modifiers, ...more), annotations: lowerAnnotations(l, decl.modifiers),
    ...(body && { body }),
  };
}

/** The first modifier word that no annotation follows, else `fun` itself. */
function headStart(decl: tree.FunDecl): number {
  const { firstWord, annotations } = decl.modifiers;
  if (firstWord === undefined) return decl.keywordStart;
  return annotations.some((annotation) => annotation.span.start > firstWord) ? decl.keywordStart : firstWord;
}

export function lowerAnonymousFunction(l: Lowering, decl: tree.FunDecl): Lambda {
  return { kind: 'Lambda', span: decl.span, fn: lowerFunction(l, decl) };
}

export function lowerFunctionBody(l: Lowering, body: tree.FunctionBody | undefined): Block | undefined {
  if (!body) return undefined;
  const { span } = body;
  if (body.kind === 'Block') return { kind: 'Block', span, stmts: lowerStmts(l, body.stmts, 'discarded') };
  return { kind: 'Block', span, stmts: [{ kind: 'Return', span, value: lowerExpr(l, body.value), implicit: true }] };
}

// ---- Parameters ---------------------------------------------------------------

export function lowerParams(l: Lowering, params: readonly tree.Parameter[]): Param[] {
  return params.map((param) => ({
    kind: 'Param', span: param.span, name: param.name,
    ...(param.type && { type: lowerType(param.type) }),
    ...(param.defaultValue && { defaultValue: lowerExpr(l, param.defaultValue) }),
    ...(param.modifiers.words.includes('vararg') && { rest: true }),
    ...(param.property && { property: true }),
  }));
}

/** Context parameters stand behind the others, marked implicit: no call hands them over. A nameless context receiver is left out. */
function lowerContext(modifiers: tree.Modifiers): Param[] {
  return modifiers.context.filter((param) => param.name !== '').map((param) => ({
    kind: 'Param', span: param.span, name: param.name, implicit: true, ...(param.type && { type: lowerType(param.type) }),
  }));
}

// ---- Lambdas ------------------------------------------------------------------

/**
 * Functions of Kotlin's standard library and of its coroutines whose lambda takes
 * no parameter, so that an `it` inside belongs to a lambda further out. Source:
 * their declarations in the API reference of kotlin-stdlib and kotlinx-coroutines-core.
 */
const TAKE_NO_PARAMETER = new Set([
  'run', 'with', 'apply', 'runCatching', 'synchronized', 'withLock', 'lazy', 'buildString', 'buildList', 'buildMap', 'buildSet',
  'sequence', 'iterator', 'getOrPut', 'ifEmpty', 'ifBlank', 'check', 'require', 'requireNotNull', 'checkNotNull', 'assert',
  'thread', 'measureTime', 'measureTimeMillis', 'measureTimedValue', 'launch', 'async', 'runBlocking', 'runInterruptible',
  'withContext', 'coroutineScope', 'supervisorScope', 'withTimeout', 'withTimeoutOrNull', 'flow', 'channelFlow', 'callbackFlow',
  'produce', 'actor', 'select', 'awaitClose', 'withPermit',
]);

/**
 * `callee` is the name of the function that the lambda is handed to. Without a
 * parameter list and with an `it` inside, the lambda gets the implicit parameter;
 * so does a lambda around it, since the tree cannot say which of the two it is.
 */
export function lowerLambda(l: Lowering, expr: tree.Lambda, callee?: string): Lambda {
  const outside = l.itMentions;
  l.itMentions = 0;
  const { span, body } = expr;
  const block: Block = { kind: 'Block', span: body.span, stmts: lowerStmts(l, body.stmts, 'returned') };
  const mentionsIt = l.itMentions > 0;
  const takesIt = mentionsIt && !TAKE_NO_PARAMETER.has(callee ?? '');
  const params = expr.params?.map(lambdaParam) ?? (takesIt ? [implicitIt(body.span)] : []);
  const rebound = expr.params?.some((param) => !('kind' in param.target) && param.target.name === 'it') ?? false;
  l.itMentions = outside + (rebound ? 0 : l.itMentions);
  const fn: Fn = { kind: 'Fn', span, typeParams: [], params, modifiers: new Set(), annotations: [], body: block };
  return { kind: 'Lambda', span, fn, ...(expr.label !== undefined && { label: expr.label }) };
}

function lambdaParam(param: tree.LambdaParam): Param {
  const { span, target } = param;
  const type = param.type && { type: lowerType(param.type) };
  if ('kind' in target) return { kind: 'Param', span, name: '', pattern: bindingsOf(target), ...type };
  return { kind: 'Param', span, name: target.name, ...type };
}

function implicitIt(body: Span): Param {
  return { kind: 'Param', span: { start: body.start, end: body.start }, name: 'it', implicit: true };
}

// ---- Accessors and constructors ---------------------------------------------------

/** Called as its property is; its own place is the word `get` or `set`. */
export function lowerAccessor(l: Lowering, accessor: tree.Accessor, property: string): Fn {
  const params = lowerParams(l, accessor.params);
  const body = lowerFunctionBody(l, accessor.body);
  return {
    kind: 'Fn', span: accessor.span, name: property, nameSpan: accessor.nameSpan,
    headSpan: { start: accessor.nameSpan.start, end: accessor.headEnd },
    typeParams: [], params, ...(accessor.result && { result: lowerType(accessor.result) }),
    modifiers: lowerModifiers(accessor.modifiers), annotations: lowerAnnotations(l, accessor.modifiers), ...(body && { body }),
  };
}

export function lowerSecondaryConstructor(l: Lowering, decl: tree.ConstructorDecl): Fn {
  const params = lowerParams(l, decl.params);
  const delegation = decl.delegation && lowerDelegation(l, decl.delegation);
  const body = lowerFunctionBody(l, decl.body);
  return {
    kind: 'Fn', span: decl.span, name: 'constructor', nameSpan: decl.keywordSpan,
    headSpan: { start: decl.modifiers.firstWord ?? decl.keywordSpan.start, end: decl.headEnd },
    typeParams: [], params, modifiers: lowerModifiers(decl.modifiers), annotations: lowerAnnotations(l, decl.modifiers),
    ...(delegation && { delegation }), ...(body && { body }),
  };
}

function lowerDelegation(l: Lowering, delegation: tree.ConstructorDelegation): Call {
  const { of, span } = delegation.to;
  return {
    kind: 'Call', span: delegation.span, callee: { kind: 'This', span, of }, args: lowerArguments(l, delegation.args), typeArgs: [],
  };
}
