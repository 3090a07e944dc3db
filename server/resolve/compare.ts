/**
 * Whether a value of one type can be given where another is wanted.
 */
import type { Ty } from './api.js';
import type { Core } from './core.js';
import { classLine } from './members.js';

/** Surely fits: the same type, one that extends it, or a type parameter. Vague types fit nothing but `any`. */
export function fits(core: Core, type: Ty, wanted: Ty): boolean {
  if (wanted.variable === true || (wanted.name === 'any' && wanted.class === undefined)) return true;
  if (type.meta === true) return false;
  if (wanted.union !== undefined) return wanted.union.some((member) => fits(core, type, member));
  if (type.union !== undefined) return type.union.some((member) => fits(core, member, wanted));
  if (type.parts !== undefined) return type.parts.some((part) => fitsLine(core, { ...part }, wanted));
  return fitsLine(core, type, wanted);
}

function fitsLine(core: Core, type: Ty, wanted: Ty): boolean {
  return classLine(core, type).some((level) => sameHead(level, wanted));
}

function sameHead(level: Ty, wanted: Ty): boolean {
  if (wanted.class !== undefined || level.class !== undefined) return level.class === wanted.class;
  return level.name === wanted.name && level.fn === undefined && wanted.fn === undefined && sameArgs(level, wanted);
}

/** `list<string>` is no `list<number>`; an argument that is not known contradicts nothing. */
function sameArgs(level: Ty, wanted: Ty): boolean {
  return wanted.args.every((arg, i) => {
    const own = level.args[i];
    if (own === undefined || isOpen(arg) || isOpen(own)) return true;
    return arg.name === own.name && arg.class === own.class;
  });
}

function isOpen(type: Ty): boolean {
  return type.variable === true || type.union !== undefined || (type.name === 'any' && type.class === undefined);
}

/** Kinds of value of which no one is another. */
const DISTINCT = new Set(['number', 'string', 'boolean', 'bytes', 'list', 'set', 'map', 'fun']);

/** Surely no function, and no object that stands for one. */
export function isPlainValue(type: Ty): boolean {
  return type.class === undefined && type.name !== 'fun' && DISTINCT.has(type.name);
}

/** Surely does not fit: both are known and neither can be the other. What is not known may fit. */
export function clashes(core: Core, type: Ty, wanted: Ty): boolean {
  if (isOpen(wanted) || isOpen(type) || type.name === 'never') return false;
  if (type.name === 'null') return !wanted.nullable && DISTINCT.has(wanted.name);
  if (type.fn !== undefined) return wanted.fn === undefined && DISTINCT.has(wanted.name) && wanted.name !== 'fun';
  if (wanted.fn !== undefined) return DISTINCT.has(type.name) && type.name !== 'fun';
  if (DISTINCT.has(type.name) && DISTINCT.has(wanted.name)) return type.name !== wanted.name;
  const isKnown = (one: Ty): boolean => one.class !== undefined || one.platform !== undefined;
  if (DISTINCT.has(wanted.name)) return isKnown(type) && !fits(core, type, wanted);
  if (DISTINCT.has(type.name)) return isKnown(wanted) && wanted.platform?.name !== type.name;
  return isKnown(type) && isKnown(wanted) && !fits(core, type, wanted) && !fits(core, wanted, type);
}
