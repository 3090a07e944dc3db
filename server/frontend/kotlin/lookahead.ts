/**
 * Questions that Kotlin's grammar asks of tokens further on, answered without
 * consuming any: does a declaration begin here, where is a function's name
 * behind its receiver, has this lambda parameters.
 */
import type { Cursor } from './cursor.js';
import { END, IDENT, KEYWORD } from './lexer.js';

/** Whether a declaration begins at `index` (as a statement, where its words could also be names). */
export function declarationAhead(c: Cursor, index = c.at): boolean {
  const at = afterPrefixes(c, index);
  if (!c.isDeclarationKeywordAt(at)) return false;
  const keyword = c.valueAt(at);
  if (keyword === 'object') return c.kindAt(at + 1) === IDENT || c.isAt(at - 1, 'companion');
  if (keyword !== 'fun' || c.isAt(at + 1, 'interface')) return true;
  return !c.isAt(at + 1, '(') && functionName(c, at + 1).name >= 0;
}

/** Past all annotations, modifiers and context clauses at `index`. */
export function afterPrefixes(c: Cursor, index: number): number {
  let at = index;
  for (let next = afterPrefix(c, at); next !== at; next = afterPrefix(c, at)) at = next;
  return at;
}

/** Past one annotation, modifier or context clause at `at`; `at` itself if there is none. */
function afterPrefix(c: Cursor, at: number): number {
  if (c.isAt(at, '@')) return afterAnnotation(c, at);
  if (c.isModifierAt(at)) {
    const next = at + 1;
    const nextIsWord = c.kindAt(next) === IDENT && !c.isNewlineAt(next);
    return nextIsWord || c.isDeclarationKeywordAt(next) || c.isAt(next, '@') ? next : at;
  }
  if (c.kindAt(at) === IDENT && c.valueAt(at) === 'context' && c.isAt(at + 1, '(')) {
    const after = c.afterBracket(at + 1);
    return c.isDeclarationKeywordAt(after) || c.isModifierAt(after) ? after : at;
  }
  return at;
}

function afterAnnotation(c: Cursor, at: number): number {
  if (c.isAt(at + 1, '[')) return c.afterBracket(at + 1);
  if (c.kindAt(at + 1) !== IDENT) return at;
  let i = at + 2;
  if (c.isAt(i, ':')) i += 2;
  while (c.isAt(i, '.') && c.kindAt(i + 1) === IDENT) i += 2;
  if (c.isAt(i, '<')) i = Math.max(afterAngles(c, i), i);
  if (c.isAt(i, '(') && c.touches(i)) i = c.afterBracket(i);
  return i;
}

/** Past the `>` that closes the `<` at `index`, or -1 where these are no type parameters or arguments. */
export function afterAngles(c: Cursor, index: number): number {
  let depth = 0;
  for (let i = index; c.kindAt(i) !== END; i++) {
    if (c.isAt(i, '<')) depth++;
    else if (c.isAt(i, '>')) { if (--depth === 0) return i + 1; }
    else if (c.isAt(i, '(')) i = c.afterBracket(i) - 1;
    else if (c.isAt(i, '{') || c.isAt(i, '}') || c.isAt(i, ';') || (c.kindAt(i) === KEYWORD && c.valueAt(i) !== 'in')) return -1;
  }
  return -1;
}

/**
 * Where the name stands in `fun Receiver<T>.name(` or `val Receiver.name`, given
 * the token after the keyword and type parameters: its index (-1 if there is no
 * name) and that of the dot before it (-1 without receiver).
 */
export function functionName(c: Cursor, index: number): { readonly name: number; readonly dot: number } {
  let at = c.isAt(index, '<') ? Math.max(afterAngles(c, index), index) : index;
  let name = -1;
  let dot = -1;
  for (;;) {
    if (c.isAt(at, '@')) {
      const after = afterAnnotation(c, at);
      if (after === at) break;
      at = after;
    } else if (c.kindAt(at) === IDENT) {
      if (name >= 0) break;
      name = at++;
    } else if (c.isAt(at, '<')) {
      const after = afterAngles(c, at);
      if (after < 0) break;
      at = after;
    } else if (c.isAt(at, '.') || c.isAt(at, '?.')) {
      dot = at++;
      name = -1;
    } else if (c.isAt(at, '?') || c.isAt(at, '&')) {
      at++;
    } else if (c.isAt(at, '(')) {
      const after = c.afterBracket(at);
      if (!isReceiverSuffix(c, after) && !(c.isAt(after, '.') && name < 0 && dot < 0)) break;
      at = after;
    } else {
      break;
    }
  }
  return { name, dot };
}

/** After the `)` of a bracketed receiver type, on its line: `(A).f`, `(A?)?.f`. */
function isReceiverSuffix(c: Cursor, at: number): boolean {
  if (c.isNewlineAt(at)) return false;
  if (c.isAt(at, '.') || c.isAt(at, '?.')) return true;
  return c.isAt(at, '?') && (c.isAt(at + 1, '.') || c.isAt(at + 1, '?.'));
}

/** Whether the lambda whose first token inside the brace is here has parameters (`a, (b, c): T ->`). */
export function lambdaParametersAhead(c: Cursor, index: number): boolean {
  let at = index;
  if (c.isAt(at, '->')) return true;
  for (;;) {
    if (c.isAt(at, '(') || c.isAt(at, '[')) at = c.afterBracket(at);
    else if (c.kindAt(at) === IDENT) at++;
    else return false;
    if (c.isAt(at, ':')) at = afterParameterType(c, at + 1);
    if (at < 0) return false;
    if (c.isAt(at, '->')) return true;
    if (!c.isAt(at, ',')) return false;
    at++;
    if (c.isAt(at, '->')) return true;
  }
}

/** The first `,` or `->` outside brackets after a lambda parameter's colon, or -1. */
function afterParameterType(c: Cursor, index: number): number {
  let depth = 0;
  for (let i = index; c.kindAt(i) !== END; i++) {
    if (c.isAt(i, '{') || c.isAt(i, '}') || c.isAt(i, ';')) return -1;
    if (depth === 0 && (c.isAt(i, '->') || c.isAt(i, ','))) return i;
    if (depth === 0 && c.isNewlineAt(i) && c.kindAt(i) === KEYWORD) return -1;
    if (c.isAt(i, '(')) i = c.afterBracket(i) - 1;
    else if (c.isAt(i, '<')) depth++;
    else if (c.isAt(i, '>')) depth--;
  }
  return -1;
}

/** Whether the bracket here holds the names of a destructuring declaration. */
export function destructuringAhead(c: Cursor): boolean {
  const after = c.afterBracket(c.at);
  return c.isAt(after, '=') || c.isAt(after, 'in') || c.isAt(after, ':');
}
