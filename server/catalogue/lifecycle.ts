/** Looks up which functions a platform or framework calls when something begins, pauses or ends. */
import { lifecycleRows } from './data.js';
import { extendsType } from './platform.js';
import type { Language, Lifecycle } from './types.js';

let byName: Map<string, Lifecycle[]> | undefined;

function index(): NonNullable<typeof byName> {
  if (byName !== undefined) return byName;
  byName = new Map();
  for (const { names, on, ...rest } of lifecycleRows) {
    for (const name of names) byName.set(name, [...(byName.get(name) ?? []), ...on.map((type) => ({ ...rest, name, on: type }))]);
  }
  return byName;
}

/**
 * The lifecycle function of that name on a type. A type's own row wins over an inherited one; a row whose `on` is `any`
 * stands for every type, and for functions outside of one.
 *
 * @param typeName a supertype's name as source writes it; absent: a function outside a class, or a supertype not known
 */
export function lifecycleOf(language: Language, typeName: string | undefined, fnName: string): Lifecycle | undefined {
  const rows = index().get(fnName)?.filter((row) => row.language === language || row.language === 'both') ?? [];
  if (typeName !== undefined) {
    const own = rows.find((row) => row.on === typeName) ?? rows.find((row) => row.on !== 'any' && extendsType(language, typeName, row.on));
    if (own !== undefined) return own;
  }
  return rows.find((row) => row.on === 'any');
}

/** All of them, for tables and tests. */
export function allLifecycle(): readonly Lifecycle[] {
  return [...index().values()].flat();
}
