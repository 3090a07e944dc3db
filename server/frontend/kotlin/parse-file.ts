/** A whole file: package, imports, declarations. */
import type { Span } from '../../ir/ir.js';
import { Cursor } from './cursor.js';
import { END, IDENT, KEYWORD, type Tokens } from './lexer.js';
import { parseDeclaration } from './parse-declarations.js';
import { parseAnnotation, parseModifiers } from './parse-modifiers.js';
import { skipToken } from './recovery.js';
import type { Declaration, Import, Tree } from './tree.js';

/** The tree, and the ranges that are not Kotlin. */
export function parse(tokens: Tokens): { readonly tree: Tree; readonly unreadable: readonly Span[] } {
  const c = new Cursor(tokens);
  while (c.is('@') && c.valueAt(c.at + 1) === 'file' && c.isAt(c.at + 2, ':')) parseAnnotation(c);
  const module = c.eat('package') ? qualifiedName(c).join('.') : '';
  const imports: Import[] = [];
  while (c.eat(';') || c.isWord('import')) if (c.isWord('import')) imports.push(parseImport(c));
  c.settleFaults(0, 0);
  const declarations = parseTopLevel(c);
  return { tree: { module, imports, declarations }, unreadable: c.unreadableRanges() };
}

function parseImport(c: Cursor): Import {
  const first = c.at++;
  const path = qualifiedName(c);
  const star = c.is('.') && c.isAt(c.at + 1, '*');
  if (star) c.at += 2;
  if (path.length === 0) c.fault(first);
  const alias = c.eat('as') ? c.expectIdent().name : undefined;
  return { span: c.spanFrom(first), path, star, ...(alias !== undefined && { alias }) };
}

/** Names with dots between them, on one line; keywords are names here. */
function qualifiedName(c: Cursor): string[] {
  const names: string[] = [];
  while ((c.kind === IDENT || c.kind === KEYWORD) && !c.isNewlineAt(c.at)) {
    names.push(c.ident().name);
    const more = c.is('.') && (c.kindAt(c.at + 1) === IDENT || c.kindAt(c.at + 1) === KEYWORD);
    if (!more) break;
    c.at++;
  }
  return names;
}

function parseTopLevel(c: Cursor): Declaration[] {
  const out: Declaration[] = [];
  while (c.kind !== END) {
    if (c.eat(';')) continue;
    const first = c.at;
    const faults = c.faultCount;
    const declaration = parseDeclaration(c, first, parseModifiers(c, 'members'));
    if (declaration) out.push(declaration);
    else if (c.at === first) {
      c.fault();
      skipToken(c);
    }
    c.settleFaults(faults, first);
  }
  return out;
}
