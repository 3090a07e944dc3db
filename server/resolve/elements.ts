/**
 * What types hold: the element that an iteration yields, a map's keys and values, the parts of a pair.
 */
import { aliasedType } from '../catalogue/index.js';
import type { Language } from '../ir/ir.js';
import type { Ty } from './api.js';
import type { Core } from './core.js';
import { classLine, componentOf, givenMember, inType, libraryType } from './members.js';
import { typeOfText } from './type-text.js';
import { ANY, asNullable, joinAll, NUMBER, STRING, substitute, tupleOf, ty } from './types.js';

/** Types that hold values of their first argument, one after the other. */
const SEQUENCES = new Set([
  'list', 'set', 'Sequence', 'Iterator', 'Iterable', 'Flow', 'ReceiveChannel', 'SendChannel', 'LiveData', 'Observable',
  'Generator', 'AsyncGenerator', 'AsyncIterable',
]);

/** What a loop over the type gets, or a callback that is shown its elements. */
export function elementOf(core: Core, type: Ty, language: Language): Ty | undefined {
  if (type.union !== undefined) return joinAll(type.union.map((member) => elementOf(core, member, language)));
  if (type.tuple !== undefined) return joinAll(type.tuple);
  for (const level of classLine(core, withLibrary(type, language))) {
    if (level.name === 'map') return entryOf(level, language);
    if (level.name === 'string') return STRING;
    if (level.name === 'bytes') return NUMBER;
    if (SEQUENCES.has(level.name) && level.class === undefined) return level.args[0];
  }
  return undefined;
}

/** Map entries: Kotlin's `Map.Entry`, TypeScript's pairs. */
export function entryOf(map: Ty, language: Language): Ty {
  const [key = ANY, value = ANY] = map.args;
  return language === 'kotlin' ? typeOfEntry(key, value) : tupleOf([key, value]);
}

function typeOfEntry(key: Ty, value: Ty): Ty {
  const entry = typeOfText('kotlin', 'Map.Entry');
  return { ...entry, args: [key, value] };
}

/** The type's own description, so that what it extends can be followed. */
function withLibrary(type: Ty, language: Language): Ty {
  return type.class === undefined && type.platform === undefined ? libraryType(language, type) ?? type : type;
}

/** The level of a type's line that bears a name: `map` of a class that implements one. */
export function levelNamed(core: Core, type: Ty, name: string, language: Language): Ty | undefined {
  return classLine(core, withLibrary(type, language)).find((level) => level.name === name && level.class === undefined);
}

/** `x[i]`, by the type of the index where it is a constant. */
export function indexed(core: Core, type: Ty, language: Language, position: number | undefined, key: string | undefined): Ty | undefined {
  if (type.tuple !== undefined && position !== undefined) return type.tuple[position];
  const map = levelNamed(core, type, 'map', language);
  if (map !== undefined) return map.args[1] && asNullable(map.args[1]);
  if (key !== undefined && language === 'typescript') return memberType(core, type, key, language);
  const get = inType(core, type, 'get', language)?.decls.find((decl) => decl.is === 'fn');
  if (get?.is === 'fn') return core.resultOf(get.node);
  return elementOf(core, type, language);
}

/** The type of a member that is read as a value. */
export function memberType(core: Core, type: Ty, name: string, language: Language): Ty | undefined {
  const found = inType(core, type, name, language);
  if (found === undefined) return givenMember(core, type, name, language);
  return joinAll(found.decls.map((decl) => {
    const value = core.typeOfDecl(decl);
    return value && found.bindings ? substitute(value, found.bindings) : value;
  }));
}

/** One step of a destructuring: a property's name or a position. */
export function part(core: Core, type: Ty, step: string | number, language: Language): Ty | undefined {
  if (type.union !== undefined) return joinAll(type.union.map((member) => part(core, member, step, language)));
  if (typeof step === 'string') return memberType(core, type, step, language);
  if (type.tuple !== undefined) return type.tuple[step];
  const component = componentOf(core, type, step);
  if (component !== undefined) return component;
  const named = memberFunction(core, type, `component${step + 1}`, language);
  return named ?? elementOf(core, type, language);
}

function memberFunction(core: Core, type: Ty, name: string, language: Language): Ty | undefined {
  const found = inType(core, type, name, language);
  const decl = found?.decls[0];
  if (decl?.is === 'fn') return core.resultOf(decl.node);
  if (decl?.is !== 'platform' || decl.member === undefined) return undefined;
  return substitute(typeOfText(decl.type.language, decl.member.result ?? 'void', decl.type.typeParams), found!.bindings ?? new Map());
}

/** A name that the catalogue declares as an alias. */
export function catalogueAlias(language: Language, name: string): Ty | undefined {
  const text = aliasedType(language, name);
  return text === undefined ? undefined : typeOfText(language, text);
}

export function pairOf(first: Ty = ANY, second: Ty = ANY): Ty {
  return { ...typeOfText('kotlin', 'Pair'), args: [first, second] };
}

export function mapOf(key: Ty = ANY, value: Ty = ANY): Ty {
  return ty('map', [key, value]);
}
