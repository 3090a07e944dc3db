/**
 * What the lowering of one file carries along, and the places of nodes.
 *
 * The compiler's tree is only read here, never changed, and parents are not
 * asked for: each function is told what it needs of its surroundings.
 */
import ts from 'typescript';
import { MADE, type Import, type Span, type Unknown } from '../../ir/ir.js';

export interface Lowering {
  readonly sf: ts.SourceFile;
  readonly text: string;
  /** Imports gathered so far, re-exports and those inside `declare module` included. */
  readonly imports: Import[];
  /** Local names that an `export { … }` of this file hands out under their own name. */
  readonly exported: ReadonlySet<string>;
  /** Ranges that were given up, beside those the parser reports. */
  readonly unreadable: Span[];
  /** How many nodes the current one lies inside. */
  depth: number;
  /** What a bare `break` leaves here, and whether one has. */
  breaks: { readonly of: BreakTarget; isLeft: boolean };
}

/** A node while it is put together: optional parts are added one by one, for object spreads are slow where there are many nodes. */
export type Building<T> = { -readonly [K in keyof T]: T[K] };

export type BreakTarget = 'loop' | 'switch';

/**
 * Source nested deeper than this is given up as `Unknown`: it keeps the stack of
 * every recursive reader of the model small, and no hand-written source comes near.
 */
export const MAX_DEPTH = 500;

export function newLowering(sf: ts.SourceFile): Lowering {
  return { sf, text: sf.text, imports: [], exported: exportedNames(sf), unreadable: [], depth: 0, breaks: { of: 'loop', isLeft: false } };
}

/** The offset at which `node` itself begins, behind the white space and comments that its `pos` takes in. */
export function startOf(cx: Lowering, node: ts.Node): number {
  if (node.pos === node.end) return node.pos;
  let at = node.pos;
  let code = cx.text.charCodeAt(at);
  while (code === 0x20 || code === 0x0a || code === 0x0d || code === 0x09) code = cx.text.charCodeAt(++at);
  return mayOpenTrivia(code) ? node.getStart(cx.sf) : at;
}

/** Comments, rarer white space, shebangs and conflict markers (`<<<<<<<`): the library knows them all. */
function mayOpenTrivia(code: number): boolean {
  return code === 0x2f || code < 0x20 || code > 0x7e || code === 0x23 || code === 0x3c || code === 0x3d || code === 0x3e || code === 0x7c;
}

/** What the parser only wished for stands nowhere in the text. */
export function spanOf(cx: Lowering, node: ts.Node): Span {
  if (node.pos === node.end && !isOftenEmpty(node.kind)) return MADE;
  return { start: startOf(cx, node), end: node.end };
}

/** A hole in a list, and the attributes of a tag that has none. */
function isOftenEmpty(kind: ts.SyntaxKind): boolean {
  return kind === ts.SyntaxKind.OmittedExpression || kind === ts.SyntaxKind.JsxAttributes;
}

/** From the start of one node to the end of another. */
export function spanFrom(cx: Lowering, first: ts.Node, last: ts.Node): Span {
  return { start: startOf(cx, first), end: last.end };
}

export function textOf(cx: Lowering, node: ts.Node): string {
  return cx.text.slice(startOf(cx, node), node.end);
}

/** Lowers the body of a loop or a switch (or of a function, where there is nothing to leave): bare breaks inside are its own. */
export function withBreaksOf<T>(cx: Lowering, target: BreakTarget, lower: () => T): { result: T; isLeft: boolean } {
  const outer = cx.breaks;
  const own = { of: target, isLeft: false };
  cx.breaks = own;
  const result = lower();
  cx.breaks = outer;
  return { result, isLeft: own.isLeft };
}

/** For source nested beyond `MAX_DEPTH`. */
export function giveUp(cx: Lowering, node: ts.Node): Unknown {
  const span = spanOf(cx, node);
  cx.unreadable.push(span);
  return { kind: 'Unknown', span, children: [] };
}

/** The offset of the next token at or after `offset`: past white space and comments. */
export function skipTrivia(text: string, offset: number): number {
  for (;;) {
    const code = text.charCodeAt(offset);
    if (code <= 0x20 || code === 0xa0 || code === 0xfeff) offset++;
    else if (code === 0x2f && text.charCodeAt(offset + 1) === 0x2f) offset = lineEnd(text, offset);
    else if (code === 0x2f && text.charCodeAt(offset + 1) === 0x2a) offset = blockCommentEnd(text, offset);
    else return offset;
  }
}

/** The end of the line comment or line that `offset` stands in, its newline left out. */
export function lineEnd(text: string, offset: number): number {
  while (offset < text.length && !ts.isLineBreak(text.charCodeAt(offset))) offset++;
  return offset;
}

/** The end of the block comment that starts at `offset`; that of the text where it is never closed. */
export function blockCommentEnd(text: string, offset: number): number {
  const close = text.indexOf('*/', offset + 2);
  return close < 0 ? text.length : close + 2;
}

function exportedNames(sf: ts.SourceFile): ReadonlySet<string> {
  const names = new Set<string>();
  for (const statement of sf.statements) {
    if (!ts.isExportDeclaration(statement) || statement.moduleSpecifier !== undefined) continue;
    if (statement.exportClause === undefined || !ts.isNamedExports(statement.exportClause)) continue;
    for (const { name, propertyName } of statement.exportClause.elements) {
      if (propertyName === undefined || propertyName.text === name.text) names.add(name.text);
    }
  }
  return names;
}
