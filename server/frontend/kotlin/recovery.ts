/**
 * How the parser goes on after text that is not Kotlin, as it is while somebody
 * types: the aim is that the damage stays within one function and that every
 * other function keeps its place.
 *
 * Three observations carry it. A string ends at its line (the lexer sees to
 * that). An argument list never holds a declaration or a closing brace. And code
 * is indented: where the braces of a file do not pair up, a declaration that is
 * indented no more than the function or class around it belongs outside of that,
 * and a `}` closes only what begins at its own indentation.
 */
import type { Cursor } from './cursor.js';
import { END, HOLE_CLOSE, HOLE_OPEN } from './lexer.js';
import { declarationAhead } from './lookahead.js';

/** What stands here cannot belong to the innermost function, so a `}` is missing. */
export function leavesFunction(c: Cursor): boolean {
  const fn = c.functions.at(-1);
  return fn !== undefined && leaves(c, fn);
}

/** This line begins with a declaration or a `}` that belongs outside the function or class which began at the token `owner`. */
export function leaves(c: Cursor, owner: number): boolean {
  if (!c.tokens.unclosedBrace || !c.isNewlineAt(c.at)) return false;
  if (c.is('}')) return c.indentAt(c.at) < c.indentAt(owner);
  const couldBegin = c.isDeclarationKeywordAt(c.at) || c.isModifierAt(c.at) || c.is('@') || c.isWord('init');
  if (!couldBegin || c.indentAt(c.at) > c.indentAt(owner)) return false;
  return declarationAhead(c) || (c.isWord('init') && c.isAt(c.at + 1, '{'));
}

/**
 * The `}` here would close the function or class that began at the token `owner`,
 * but is indented more than that, so it is one whose `{` is missing.
 */
export function isStrayBrace(c: Cursor, owner: number): boolean {
  return c.tokens.unopenedBrace && c.is('}') && c.isNewlineAt(c.at) && c.indentAt(c.at) > c.indentAt(owner);
}

/** What cannot stand in a list of arguments, whose `)` is therefore missing. */
export function endsArguments(c: Cursor): boolean {
  if (c.kind === END || c.kind === HOLE_CLOSE || c.is('}')) return true;
  if (c.isKeyword('val') || c.isKeyword('var') || c.isKeyword('class') || c.isKeyword('interface')) return true;
  return c.isNewlineAt(c.at) && beginsDeclarationLine(c);
}

/** A declaration begins this line, so the expression before it has ended although a bracket is still open. */
export function beginsDeclarationLine(c: Cursor): boolean {
  return (c.isDeclarationKeywordAt(c.at) || c.isModifierAt(c.at)) && declarationAhead(c);
}

/** The end of a list of statements: its `}`, or the end of the text. */
export function endsBlock(c: Cursor): boolean {
  return c.kind === END || c.kind === HOLE_CLOSE || c.is('}');
}

/** Steps over what is left of a line whose statement has ended, bracketed groups as a whole. */
export function skipRestOfLine(c: Cursor): void {
  while (!c.isNewlineAt(c.at) && !c.is(';') && !endsBlock(c)) skipToken(c);
}

/** One token, or the whole group that it opens. */
export function skipToken(c: Cursor): void {
  if (c.isSign('(') || c.isSign('[') || c.isSign('{') || c.kind === HOLE_OPEN) c.at = c.afterBracket(c.at);
  else c.at++;
}
