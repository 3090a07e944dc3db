/**
 * Declarations as values. Each is made once, so that two answers about one declaration are the same object.
 */
import type { PlatformMember, PlatformType } from '../catalogue/types.js';
import type { AnyNode, Binding, Branch, Class, EnumEntry, Field, File, Fn, Import, Let, Loop, Param, Try, TypeAlias } from '../ir/ir.js';
import type { Decl } from './api.js';
import type { Declared } from './file-index.js';

interface Places {
  fileOf(node: AnyNode): File | undefined;
  parentOf(node: AnyNode): AnyNode | undefined;
  ownerOf(node: Fn | Field | Class | EnumEntry | TypeAlias): Class | undefined;
}

const made = new WeakMap<object, Map<string, Decl>>();

function interned(key: object, name: string, make: () => Decl): Decl {
  let byName = made.get(key);
  if (byName === undefined) {
    byName = new Map();
    made.set(key, byName);
  }
  let decl = byName.get(name);
  if (decl === undefined) {
    decl = make();
    byName.set(name, decl);
  }
  return decl;
}

export function localDecl(places: Places, node: Let | Loop | Branch | Try, name: string, binding?: Binding): Decl {
  return interned(binding ?? node, name, () => ({ is: 'local', name, node, ...(binding && { binding }), file: places.fileOf(node)! }));
}

export function paramDecl(places: Places, node: Param, fn: Fn, name: string, binding?: Binding): Decl {
  return interned(binding ?? node, name, () => ({ is: 'param', name, node, fn, ...(binding && { binding }), file: places.fileOf(fn)! }));
}

/** A member of a class or file, or a local function or class. */
export function memberDecl(places: Places, node: Declared): Decl {
  return interned(node, '', () => {
    const owner = places.ownerOf(node);
    const common = { name: node.name ?? '', ...(owner && { owner }), file: places.fileOf(node)! };
    switch (node.kind) {
      case 'Class': return { is: 'class', node, ...common };
      case 'Fn': return { is: 'fn', node, ...common };
      case 'Field': return { is: 'field', node, ...common };
      case 'TypeAlias': return { is: 'alias', node, ...common };
      case 'EnumEntry': return { is: 'entry', node, ...common, owner: owner! };
    }
  });
}

export function importDecl(places: Places, node: Import): Decl {
  return interned(node, '', () => ({ is: 'import', name: node.alias ?? node.name ?? '', node, file: places.fileOf(node)! }));
}

export function platformDecl(type: PlatformType, member?: PlatformMember): Decl {
  return interned(member ?? type, type.name, () => ({ is: 'platform', name: member?.name ?? type.name, type, ...(member && { member }) }));
}

/** The declaration that a node makes; of several bindings or catch parameters, the one given or the first. */
export function declFor(places: Places, node: Param | Field | Fn | Class | EnumEntry | Let | Loop | Branch | Try, binding?: Binding): Decl | undefined {
  switch (node.kind) {
    case 'Param': {
      const fn = places.parentOf(node);
      return fn?.kind === 'Fn' ? paramDecl(places, node, fn, binding?.name ?? node.name, binding) : undefined;
    }
    case 'Let': return boundDecl(places, node, binding ?? node.bindings[0]);
    case 'Loop': return boundDecl(places, node, binding ?? node.over?.bindings[0]);
    case 'Branch': return node.subjectName === undefined ? undefined : localDecl(places, node, node.subjectName);
    case 'Try': {
      const name = node.catches.find((caught) => caught.param !== undefined)?.param;
      return name === undefined ? undefined : localDecl(places, node, name);
    }
    default: return places.fileOf(node) === undefined ? undefined : memberDecl(places, node);
  }
}

function boundDecl(places: Places, node: Let | Loop, binding: Binding | undefined): Decl | undefined {
  return binding && places.fileOf(node) && localDecl(places, node, binding.name, binding);
}
