/**
 * How the parser goes on after text that is not Kotlin, as it is while somebody
 * types: the aim is that the damage stays within one function and that every
 * other function keeps its place.
 *
 * Three observations carry it. A string ends at its line (the lexer sees to
 * that). An argument list never holds a declaration or a closing brace. And code
 * is indented: where the brackets of a file do not pair up, a declaration that is
 * indented no more than the function around it belongs outside that function.
 */
import type { Cursor } from './cursor.js';
import { END, HOLE_CLOSE } from './lexer.js';
import { declarationAhead } from './lookahead.js';

/** A declaration stands here that cannot belong to the innermost function, so a `}` is missing. */
export function leavesFunction(c: Cursor): boolean {
  // Indentation is asked only where the brackets do not tell.
  if (c.tokens.balanced) return false;
  const indent = c.functionIndents.at(-1);
  if (indent === undefined || !c.isNewlineAt(c.at)) return false;
  const couldBegin = c.isDeclarationKeywordAt(c.at) || c.isModifierAt(c.at) || c.is('@') || c.isWord('init');
  if (!couldBegin || c.indentAt(c.at) > indent) return false;
  return declarationAhead(c) || (c.isWord('init') && c.isAt(c.at + 1, '{'));
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
  if (c.isSign('(') || c.isSign('[') || c.isSign('{')) c.at = c.afterBracket(c.at);
  else c.at++;
}
