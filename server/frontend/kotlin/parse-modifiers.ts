/** What stands before declarations: modifier words, annotations, context parameters. */
import type { Cursor } from './cursor.js';
import { IDENT } from './lexer.js';
import { parseArguments } from './parse-calls.js';
import { parseNamedType, parseType } from './parse-types.js';
import type { Annotation, Argument, Modifiers, Parameter } from './tree.js';

export const NO_MODIFIERS: Modifiers = { words: [], annotations: [], context: [] };

/**
 * Reads all modifiers here. In a block (`among` statements) a modifier word has to
 * stand on the line of what it modifies, since it could be an expression there.
 */
export function parseModifiers(c: Cursor, among: 'members' | 'statements'): Modifiers {
  if (c.kind !== IDENT && !c.is('@')) return NO_MODIFIERS;
  const words: string[] = [];
  const annotations: Annotation[] = [];
  const context: Parameter[] = [];
  let firstWord: number | undefined;
  for (;;) {
    if (atAnnotation(c)) {
      annotations.push(...parseAnnotation(c));
    } else if (c.isModifierAt(c.at) && modifiesNext(c, among)) {
      firstWord ??= c.startAt(c.at);
      words.push(c.value);
      c.at++;
    } else if (c.isWord('context') && c.isAt(c.at + 1, '(')) {
      c.at++;
      context.push(...parseContext(c));
    } else {
      return { words, annotations, context, ...(firstWord !== undefined && { firstWord }) };
    }
  }
}

function modifiesNext(c: Cursor, among: 'members' | 'statements'): boolean {
  const next = c.at + 1;
  if (c.kindAt(next) !== IDENT) return c.isDeclarationKeywordAt(next) || c.isAt(next, '@');
  return among === 'members' || c.valueAt(next) === 'constructor' || !c.isNewlineAt(next);
}

export function atAnnotation(c: Cursor): boolean {
  return c.is('@') && (c.kindAt(c.at + 1) === IDENT || c.isAt(c.at + 1, '['));
}

/** One `@Name(…)`, or the several of `@[A B]`. */
export function parseAnnotation(c: Cursor): Annotation[] {
  const first = c.at++;
  const site = c.kind === IDENT && c.isAt(c.at + 1, ':') ? c.value : undefined;
  if (site !== undefined) c.at += 2;
  if (!c.is('[')) return [annotationBody(c, first, site)];
  const out: Annotation[] = [];
  c.at++;
  while (c.kind === IDENT) out.push(annotationBody(c, c.at, site));
  c.expect(']');
  return out;
}

function annotationBody(c: Cursor, first: number, site: string | undefined): Annotation {
  const { name } = parseNamedType(c);
  const args: readonly Argument[] = c.is('(') && c.touches(c.at) ? parseArguments(c) : [];
  return { kind: 'Annotation', span: c.spanFrom(first), name, args, ...(site !== undefined && { site }) };
}

/** `(a: A, b: B)` of a context clause, or `(A, B)`, whose receivers have no name. */
function parseContext(c: Cursor): Parameter[] {
  c.expect('(');
  return c.inBrackets(() => {
    const out: Parameter[] = [];
    while (!c.is(')')) {
      const first = c.at;
      const named = c.kind === IDENT && c.isAt(c.at + 1, ':');
      const name = named ? c.ident() : { name: '', span: c.emptySpan() };
      if (named) c.at++;
      const type = parseType(c);
      out.push({ kind: 'Parameter', span: c.spanFrom(first), name: name.name, nameSpan: name.span, modifiers: NO_MODIFIERS, type });
      if (c.at === first || !c.eat(',')) break;
    }
    c.expect(')');
    return out;
  });
}
