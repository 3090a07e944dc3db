/**
 * What a block declares, by name: its variables, and the functions and classes that stand in it.
 */
import type { Binding, Block, Class, Fn, Let, TypeAlias } from '../ir/ir.js';

export interface Bound {
  readonly node: Let;
  readonly binding: Binding;
}

const variables = new WeakMap<Block, Map<string, Bound[]>>();
const declarations = new WeakMap<Block, Map<string, (Fn | Class | TypeAlias)[]>>();

/** Variables in the order of their declaration. */
export function blockVariables(block: Block): ReadonlyMap<string, readonly Bound[]> {
  let table = variables.get(block);
  if (table === undefined) {
    table = new Map();
    variables.set(block, table);
    for (const stmt of block.stmts) {
      if (stmt.kind !== 'Let') continue;
      for (const binding of stmt.bindings) {
        const known = table.get(binding.name);
        if (known === undefined) table.set(binding.name, [{ node: stmt, binding }]);
        else known.push({ node: stmt, binding });
      }
    }
  }
  return table;
}

export function blockDeclarations(block: Block): ReadonlyMap<string, readonly (Fn | Class | TypeAlias)[]> {
  let table = declarations.get(block);
  if (table === undefined) {
    table = new Map();
    declarations.set(block, table);
    for (const stmt of block.stmts) {
      if (stmt.kind !== 'LocalDecl' || stmt.declaration.name === undefined) continue;
      const known = table.get(stmt.declaration.name);
      if (known === undefined) table.set(stmt.declaration.name, [stmt.declaration]);
      else known.push(stmt.declaration);
    }
  }
  return table;
}
