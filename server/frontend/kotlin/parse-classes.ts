/** Classes, interfaces, objects, enums, and the bodies of all of them. */
import type { Cursor } from './cursor.js';
import { END, IDENT, QUOTE_OPEN } from './lexer.js';
import { afterPrefixes } from './lookahead.js';
import { parseArguments } from './parse-calls.js';
import { parseDeclaration } from './parse-declarations.js';
import { parseExpression } from './parse-expressions.js';
import { parseParameters } from './parse-functions.js';
import { atAnnotation, NO_MODIFIERS, parseAnnotation, parseModifiers } from './parse-modifiers.js';
import { parsePrimary } from './parse-primary.js';
import { parseType, parseTypeParameters, skipWhere } from './parse-types.js';
import { isStrayBrace, leaves, skipToken } from './recovery.js';
import type { ClassDecl, Declaration, EnumEntry, Expr, Modifiers, PrimaryConstructor, Supertype } from './tree.js';

/** At `class` or `interface`; the declaration began at the token `first`. */
export function parseClass(c: Cursor, first: number, modifiers: Modifiers): ClassDecl {
  const keyword = c.value === 'interface' ? 'interface' : 'class';
  c.at++;
  const name = c.expectIdent();
  const typeParams = c.is('<') ? parseTypeParameters(c) : [];
  const primary = parsePrimaryConstructor(c);
  const supertypes = c.eat(':') ? parseSupertypes(c) : [];
  skipWhere(c);
  const isEnum = modifiers.words.includes('enum');
  const { entries, members } = c.isSign('{') ? parseClassBody(c, first, isEnum) : NO_BODY;
  return {
    kind: 'ClassDecl', span: c.spanFrom(first), keyword, name, modifiers, typeParams, supertypes, entries, members,
    ...(primary && { primary }),
  };
}

function parsePrimaryConstructor(c: Cursor): PrimaryConstructor | undefined {
  const first = c.at;
  const word = afterPrefixes(c, first);
  const named = c.kindAt(word) === IDENT && c.valueAt(word) === 'constructor';
  if (!named && !c.isSign('(')) return undefined;
  const modifiers = named ? parseModifiers(c, 'members') : NO_MODIFIERS;
  if (named) c.at++;
  const params = c.isSign('(') ? parseParameters(c) : [];
  return { span: c.spanFrom(first), modifiers, params };
}

/** `Base(args), Other by value` */
function parseSupertypes(c: Cursor): Supertype[] {
  const out: Supertype[] = [];
  do {
    while (atAnnotation(c)) parseAnnotation(c);
    const type = parseType(c);
    const args = c.isSign('(') && !c.atNewline() ? parseArguments(c) : undefined;
    const by = c.isWord('by') ? delegate(c) : undefined;
    out.push({ type, ...(args && { args }), ...(by && { by }) });
  } while (c.eat(','));
  return out;
}

/** The `{` after `by value` begins the class body, not a lambda. */
function delegate(c: Cursor): Expr {
  c.at++;
  return c.inMode(c.newlinesMatter, false, () => parseExpression(c));
}

interface ClassBody {
  readonly entries: readonly EnumEntry[];
  readonly members: readonly Declaration[];
}
const NO_BODY: ClassBody = { entries: [], members: [] };

/** The body of the class that began at the token `owner`. */
function parseClassBody(c: Cursor, owner: number, isEnum = false): ClassBody {
  const opener = c.at++;
  return c.inBraces(() => {
    const functions = c.functions.splice(0);
    const entries = isEnum ? parseEntries(c) : [];
    const members = parseMembers(c, owner, opener);
    c.functions.push(...functions);
    return { entries, members };
  });
}

/** Members up to and including the closing brace. */
function parseMembers(c: Cursor, owner: number, opener: number): Declaration[] {
  const out: Declaration[] = [];
  for (;;) {
    if (c.kind === END || leaves(c, owner)) {
      c.fault(opener);
      return out;
    }
    if (!isStrayBrace(c, owner) && c.eat('}')) return out;
    if (c.eat(';')) continue;
    const first = c.at;
    const faults = c.faultCount;
    const member = parseDeclaration(c, first, parseModifiers(c, 'members'));
    if (member) out.push(member);
    else if (c.at === first) skipStray(c);
    c.settleFaults(faults, first);
  }
}

/** Steps over what is no member: a statement that was moved here, or the rest of a damaged one. */
function skipStray(c: Cursor): void {
  c.fault();
  if (c.kind === QUOTE_OPEN) parsePrimary(c);
  else skipToken(c);
}

function parseEntries(c: Cursor): EnumEntry[] {
  const out: EnumEntry[] = [];
  while (!c.is(';') && !c.is('}')) {
    const first = c.at;
    while (atAnnotation(c)) parseAnnotation(c);
    if (c.kind !== IDENT) break;
    const name = c.ident();
    const args = c.isSign('(') ? parseArguments(c) : [];
    const body = c.isSign('{') ? entryBody(c) : undefined;
    out.push({ kind: 'EnumEntry', span: c.spanFrom(first), name, args, ...(body && { body }) });
    if (!c.eat(',')) break;
  }
  c.eat(';');
  return out;
}

function entryBody(c: Cursor): ClassDecl {
  const first = c.at;
  const { members } = parseClassBody(c, first);
  return { ...emptyObject(c, first), members };
}

function emptyObject(c: Cursor, first: number): ClassDecl {
  return {
    kind: 'ClassDecl', span: c.spanFrom(first), keyword: 'object', modifiers: NO_MODIFIERS, typeParams: [], supertypes: [],
    entries: [], members: [],
  };
}

/** At `object`; the declaration began at the token `first`. */
export function parseObject(c: Cursor, first: number, modifiers: Modifiers): ClassDecl {
  c.at++;
  const name = c.kind === IDENT ? c.ident() : undefined;
  if (c.isSign('(')) parseArguments(c);
  const supertypes = c.eat(':') ? parseSupertypes(c) : [];
  const { members } = c.isSign('{') ? parseClassBody(c, first) : NO_BODY;
  return { ...emptyObject(c, first), modifiers, supertypes, members, ...(name && { name }) };
}

/** `object : T { … }` as an expression. */
export function parseObjectLiteral(c: Cursor): Expr {
  const first = c.at;
  const body = parseObject(c, first, NO_MODIFIERS);
  return { kind: 'ObjectLiteral', span: c.spanFrom(first), body };
}
