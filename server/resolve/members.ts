/**
 * What a type has: members of project classes with those they inherit, members of the catalogue's types, of unions and
 * intersections. Extension functions are no members; they are found through `scope.ts`.
 */
import { membersOf, platformType } from '../catalogue/index.js';
import type { Class, EnumEntry, Field, Fn, Language, TypeAlias } from '../ir/ir.js';
import type { Decl, Ty } from './api.js';
import type { Core, Found } from './core.js';
import { memberDecl, platformDecl } from './decls.js';
import { bind, instanceOf, listOf, STRING, substitute, ty, type Bindings } from './types.js';

type Member = Field | Fn | EnumEntry | Class | TypeAlias;

const tables = new WeakMap<Class, Map<string, Member[]>>();

/** A class's own members by name. */
export function ownMembers(cls: Class): ReadonlyMap<string, readonly Member[]> {
  let table = tables.get(cls);
  if (table === undefined) {
    table = new Map();
    tables.set(cls, table);
    for (const member of [...cls.fields, ...cls.functions, ...cls.entries, ...cls.classes, ...cls.aliases]) {
      if (member.name === undefined) continue;
      const known = table.get(member.name);
      if (known === undefined) table.set(member.name, [member]);
      else known.push(member);
    }
  }
  return table;
}

/**
 * The members of that name that a value of the type has; for the class itself (`meta`), its static ones. Overloads come
 * together, own ones first. Undefined when the type has none that we know of.
 */
export function inType(core: Core, type: Ty, name: string, language: Language): Found | undefined {
  if (type.union !== undefined) return firstOf(core, type.union, name, language);
  if (type.parts !== undefined) return firstOf(core, type.parts.map(withoutParts), name, language);
  if (type.class !== undefined) return inClass(core, type, name, language);
  const known = type.platform === undefined ? libraryType(language, type) : type;
  return known && inPlatform(core, known, name);
}

/** The catalogue's description of a neutral type (`list`, `string`) or of one made by name. */
export function libraryType(language: Language, type: Ty): Ty | undefined {
  if (type.fn !== undefined || type.variable === true) return undefined;
  const platform = platformType(language, type.name);
  return platform && { ...type, platform };
}

/** A value that is one of several types is used as one that has the member; several that have it answer together. */
function firstOf(core: Core, types: readonly Ty[], name: string, language: Language): Found | undefined {
  const found = types.flatMap((type) => inType(core, type, name, language) ?? []);
  if (found.length < 2) return found[0];
  return { ...found[0]!, decls: [...new Set(found.flatMap((each) => each.decls))] };
}

function withoutParts(type: Ty): Ty {
  const { parts: _, ...rest } = type;
  return rest;
}

// ---- Project classes ----------------------------------------------------

function inClass(core: Core, type: Ty, name: string, language: Language): Found | undefined {
  const decls: Decl[] = [];
  let bindings: Bindings = new Map();
  let on: Ty | undefined;
  for (const level of classLine(core, instanceOf(type))) {
    const found = level.class !== undefined ? ownDecls(core, level.class, name) : inType(core, level, name, language)?.decls ?? [];
    const fresh = found.filter((decl) => !isOverridden(decl, decls));
    if (fresh.length === 0) continue;
    if (decls.length === 0) {
      on = level;
      bindings = level.class === undefined ? platformBindings(core, level) : bind(level.class.typeParams, level.args);
    }
    decls.push(...fresh);
    if (fresh.some((decl) => decl.is !== 'fn' && decl.is !== 'platform')) break;
  }
  if (decls.length === 0) return inSpreads(core, type, name, language);
  return { decls: preferred(decls, type.meta === true), on: { ...(on ?? type), ...(type.meta && { meta: true }), nullable: type.nullable }, bindings };
}

/** An object literal has what is spread into it; the last spread wins. */
function inSpreads(core: Core, type: Ty, name: string, language: Language): Found | undefined {
  for (const spread of [...(type.class?.spreads ?? [])].reverse()) {
    const value = spread.kind === 'Unknown' ? undefined : core.typeOf(spread);
    const found = value && inType(core, value, name, language);
    if (found !== undefined) return found;
  }
  return undefined;
}

function ownDecls(core: Core, cls: Class, name: string): Decl[] {
  const own = (ownMembers(cls).get(name) ?? []).map((member) => memberDecl(core.program, member));
  if (own.length > 0 || cls.form !== 'interface' || cls.name === undefined) return own;
  return sameInterface(core, cls).flatMap((other) => (ownMembers(other).get(name) ?? []).map((member) => memberDecl(core.program, member)));
}

/** TypeScript joins interfaces of one name in one file. */
function sameInterface(core: Core, cls: Class): Class[] {
  if (core.languageAt(cls) !== 'typescript') return [];
  const file = core.program.fileOf(cls);
  const others = file === undefined ? [] : core.program.indexOf(file).declarations.classes.get(cls.name!) ?? [];
  return others.filter((other) => other !== cls && other.form !== 'anonymous');
}

/** The type, then everything it extends, nearest first, each once; arguments are put in along the way. */
export function classLine(core: Core, type: Ty): readonly Ty[] {
  const line: Ty[] = [type];
  const seen = new Set<unknown>([type.class ?? type.name]);
  for (let i = 0; i < line.length && i < 64; i++) {
    for (const above of core.supertypesOf(line[i]!)) {
      const key = above.class ?? above.name;
      if (seen.has(key)) continue;
      seen.add(key);
      line.push(above);
    }
  }
  return line;
}

/** Whether a nearer function already answers for this one: same number of parameters. */
function isOverridden(decl: Decl, nearer: readonly Decl[]): boolean {
  const arity = arityOf(decl);
  return nearer.some((other) => arity !== undefined && (other.is === 'fn' || other.is === 'platform') && arityOf(other) === arity && !sameOwner(decl, other));
}

function sameOwner(a: Decl, b: Decl): boolean {
  if (a.is === 'fn' && b.is === 'fn') return a.owner === b.owner;
  return a.is === 'platform' && b.is === 'platform' && a.type === b.type;
}

function arityOf(decl: Decl): number | undefined {
  if (decl.is === 'fn') return decl.node.params.length;
  return decl.is === 'platform' ? decl.member?.params?.length : undefined;
}

/** Of static and instance members of one name, those that can be meant. */
function preferred(decls: readonly Decl[], wantsStatic: boolean): readonly Decl[] {
  if (decls.length < 2) return decls;
  const matching = decls.filter((decl) => isStatic(decl) === wantsStatic);
  return matching.length > 0 ? matching : decls;
}

function isStatic(decl: Decl): boolean {
  switch (decl.is) {
    case 'field': return decl.node.static;
    case 'fn': return decl.node.modifiers.has('static');
    case 'platform': return decl.member?.static ?? decl.member === undefined;
    default: return true;
  }
}

// ---- The catalogue ------------------------------------------------------

function inPlatform(core: Core, type: Ty, name: string): Found | undefined {
  const platform = type.platform!;
  const members = membersOf(platform.language, platform.name, name);
  const fitting = type.meta === true ? members.filter((member) => member.static === true) : members;
  if (fitting.length > 0) {
    const decls = fitting.map((member) => platformDecl(platform, member));
    return { decls, on: type, bindings: platformBindings(core, type) };
  }
  const nested = type.meta === true ? platformType(platform.language, `${platform.name}.${name}`) : undefined;
  return nested === undefined ? undefined : { decls: [platformDecl(nested)], on: type };
}

/** What the type parameters of a catalogue type and of all that it extends stand for; no two of one line share a name with another meaning. */
function platformBindings(core: Core, type: Ty): Bindings {
  const bindings: Bindings = new Map();
  for (const level of [...classLine(core, instanceOf(type))].reverse()) {
    for (const [name, value] of bind(level.platform?.typeParams, level.args)) bindings.set(name, value);
  }
  return bindings;
}

// ---- Members that every type of a kind has ------------------------------

/** What the language itself gives to enums and data classes; undefined where there is nothing of that name. */
export function givenMember(core: Core, type: Ty, name: string, language: Language): Ty | undefined {
  const cls = type.class;
  if (cls === undefined) return undefined;
  if (cls.form === 'enum') {
    if (type.meta === true && (name === 'entries' || name === 'values')) return listOf(core.selfOf(cls));
    if (type.meta === true && name === 'valueOf') return core.selfOf(cls);
    if (language === 'kotlin' && name === 'name') return STRING;
    if (language === 'kotlin' && name === 'ordinal') return ty('number');
  }
  if (cls.modifiers.has('data') && name === 'copy') return { ...type, nullable: false };
  const component = /^component(\d+)$/.exec(name);
  return component !== null && cls.modifiers.has('data') ? componentOf(core, type, Number(component[1]) - 1) : undefined;
}

/** The type of the n-th (from 0) property of a data class. */
export function componentOf(core: Core, type: Ty, position: number): Ty | undefined {
  const cls = type.class;
  if (cls === undefined || !cls.modifiers.has('data')) return undefined;
  const param = cls.constructors[0]?.params[position];
  const component = param && core.typeOfParam(param);
  return component && substitute(component, bind(cls.typeParams, type.args));
}
