/**
 * Kotlin's extension functions and properties: those of a name whose receiver a type fits.
 *
 * A type that is not known fits none: a name alone finds no extension.
 */
import type { AnyNode, Field, Fn } from '../ir/ir.js';
import type { Ty } from './api.js';
import { fits } from './compare.js';
import type { Core, Found } from './core.js';
import { memberDecl } from './decls.js';
import { unify, type Bindings } from './types.js';

/** The extensions of that name on the type, those of the own file first. */
export function extensionsOn(core: Core, type: Ty, name: string, at: AnyNode, kind: 'Fn' | 'Field'): Found | undefined {
  if (core.languageAt(at) !== 'kotlin') return undefined;
  const named: readonly (Fn | Field)[] = kind === 'Fn' ? core.program.functionsNamed(name) : core.program.fieldsNamed(name);
  const bindings: Bindings = new Map();
  const fitting = named.filter((node) => {
    const receiver = node.receiver && core.typeOfRef(node.receiver, node.kind === 'Fn' ? node : (core.program.parentOf(node) ?? node));
    if (receiver === undefined || !fits(core, type, receiver)) return false;
    unify(receiver, type, bindings);
    return true;
  });
  if (fitting.length === 0) return undefined;
  const file = core.program.fileOf(at);
  const near = fitting.filter((node) => core.program.fileOf(node) === file);
  return { decls: (near.length > 0 ? near : fitting).map((node) => memberDecl(core.program, node)), on: type, bindings };
}
