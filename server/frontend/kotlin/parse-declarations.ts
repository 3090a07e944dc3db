/** What a declaration is, by its keyword. */
import type { Cursor } from './cursor.js';
import { parseClass, parseObject } from './parse-classes.js';
import { parseConstructor, parseFunction } from './parse-functions.js';
import { parseProperty } from './parse-properties.js';
import { parseBlock } from './parse-statements.js';
import { parseType, parseTypeParameters } from './parse-types.js';
import type { Declaration, Modifiers, TypeAliasDecl } from './tree.js';

/** At the keyword, the modifiers being read; undefined where no declaration stands here. */
export function parseDeclaration(c: Cursor, first: number, modifiers: Modifiers): Declaration | undefined {
  return c.deeper(() => declaration(c, first, modifiers), () => undefined);
}

function declaration(c: Cursor, first: number, modifiers: Modifiers): Declaration | undefined {
  if (c.isKeyword('class') || c.isKeyword('interface')) return parseClass(c, first, modifiers);
  if (c.isKeyword('fun')) {
    if (!c.isAt(c.at + 1, 'interface')) return parseFunction(c, first, modifiers);
    c.at++;
    return parseClass(c, first, modifiers);
  }
  if (c.isKeyword('val') || c.isKeyword('var')) return parseProperty(c, first, modifiers, 'member');
  if (c.isKeyword('object')) return parseObject(c, first, modifiers);
  if (c.isKeyword('typealias')) return typeAlias(c, first);
  if (c.isWord('constructor') && c.isAt(c.at + 1, '(')) return parseConstructor(c, first, modifiers);
  if (c.isWord('init') && c.isAt(c.at + 1, '{')) c.at++;
  else if (!c.isSign('{')) {
    if (c.at > first) c.fault();
    return undefined;
  } else {
    // A block that has lost its header: its statements are read as those of an `init`.
    c.fault();
  }
  const body = parseBlock(c, first);
  return { kind: 'InitBlock', span: c.spanFrom(first), body };
}

function typeAlias(c: Cursor, first: number): TypeAliasDecl {
  c.at++;
  const name = c.expectIdent();
  const typeParams = c.is('<') ? parseTypeParameters(c) : [];
  c.expect('=');
  const type = parseType(c);
  return { kind: 'TypeAliasDecl', span: c.spanFrom(first), name, typeParams, type };
}
