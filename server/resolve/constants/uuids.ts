/**
 * UUIDs in whatever way they are written, as 128-bit lower-case text.
 *
 * A number, a short text or a standard name (`heart_rate`) is a UUID only in a place that takes one: an argument of a
 * Web Bluetooth call, an entry of `services`, or a constant or parameter that is handed on to such a place.
 */
import { canonicalUuid, webBluetoothName } from '../../catalogue/index.js';
import type { Expr } from '../../ir/ir.js';
import type { Core } from '../core.js';
import type { Evaluator, Value } from './values.js';

type UuidKind = 'service' | 'characteristic' | 'descriptor';

export function uuidOf(evaluator: Evaluator, expr: Expr): string | undefined {
  const value = evaluator.value(expr);
  if (value === undefined) return undefined;
  if (value.is === 'uuid') return value.uuid;
  const whole = value.is === 'text' && value.text.length >= 32 ? canonicalUuid(value.text) : undefined;
  if (whole !== undefined) return whole;
  return value.is === 'text' || value.is === 'number' ? shortUuid(evaluator.core, expr, value) : undefined;
}

function shortUuid(core: Core, expr: Expr, value: Value & { readonly is: 'text' | 'number' }): string | undefined {
  const kind = uuidPlace(core, expr);
  if (kind === undefined) return undefined;
  if (value.is === 'number') return canonicalUuid(Number(value.value));
  return webBluetoothName(kind, value.text) ?? (/^(0x)?[0-9a-f]+$/i.test(value.text) ? canonicalUuid(value.text) : undefined);
}

const PLACES: Readonly<Record<string, UuidKind>> = {
  getPrimaryService: 'service', getPrimaryServices: 'service', getIncludedService: 'service', getIncludedServices: 'service', getService: 'service',
  getCharacteristic: 'characteristic', getCharacteristics: 'characteristic', getDescriptor: 'descriptor', getDescriptors: 'descriptor',
};

/** Properties of the options of `requestDevice` that list services. */
const LISTS = new Set(['services', 'optionalServices']);

const DEPTH = 4;

/** What kind of UUID the place of an expression takes; undefined where it takes none. */
function uuidPlace(core: Core, expr: Expr, depth = 0): UuidKind | undefined {
  if (depth > DEPTH) return undefined;
  const parent = core.program.parentOf(expr);
  switch (parent?.kind) {
    case 'Call': {
      const argument = parent.args.find((each) => each.value === expr);
      if (argument === undefined) return undefined;
      const callee = core.calleeOf(parent);
      if (callee.owner !== undefined) return callee.name === undefined ? undefined : PLACES[callee.name];
      const fn = callee.fns[0];
      const param = fn?.params.find((each) => core.argumentFor(parent, fn, each) === expr);
      return fn && param && placeOfReads(core, core.paramDecl(param, fn), depth);
    }
    case 'ListExpr':
    case 'Choose':
    case 'Cast':
    case 'Yield':
    case 'Unary':
      return uuidPlace(core, parent as Expr, depth);
    case 'Binary': return parent.op === '??' || parent.op === '||' ? uuidPlace(core, parent, depth) : undefined;
    case 'Field': {
      if (LISTS.has(parent.name)) return core.languageAt(parent) === 'typescript' ? 'service' : undefined;
      return placeOfReads(core, core.fieldDecl(parent), depth);
    }
    case 'Let': {
      const decl = parent.bindings.length === 1 ? core.declFor(parent, parent.bindings[0]) : undefined;
      return decl && placeOfReads(core, decl, depth);
    }
    case 'EnumEntry': {
      const entry = core.declFor(parent);
      return entry && placeOfReads(core, entry, depth);
    }
    default: return undefined;
  }
}

function placeOfReads(core: Core, decl: Parameters<Core['readsOf']>[0], depth: number): UuidKind | undefined {
  for (const read of core.readsOf(decl)) {
    const kind = uuidPlace(core, read, depth + 1);
    if (kind !== undefined) return kind;
  }
  return undefined;
}
