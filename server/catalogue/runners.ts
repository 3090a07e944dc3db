/** Looks up how a known function treats the lambdas it is given. Which function a call means is decided in `resolve/`. */
import { runnerRows } from './data.js';
import type { Language, Runner } from './types.js';

let byName: Map<string, Runner[]> | undefined;

function index(): Map<string, Runner[]> {
  if (byName !== undefined) return byName;
  byName = new Map();
  for (const { names, on, ...rest } of runnerRows) {
    for (const name of names) {
      const rows: Runner[] = on === undefined ? [{ ...rest, name }] : on.map((type) => ({ ...rest, name, on: type }));
      byName.set(name, [...(byName.get(name) ?? []), ...rows]);
    }
  }
  return byName;
}

/** Every way in which a function of that name runs a lambda in that language: one with a fitting `on` comes before one without. */
export function runnersOf(language: Language, name: string): readonly Runner[] {
  const rows = index().get(name)?.filter((row) => row.language === language || row.language === 'both') ?? [];
  return [...rows.filter((row) => row.on !== undefined), ...rows.filter((row) => row.on === undefined)];
}

/** All of them, for tables and tests. */
export function allRunners(): readonly Runner[] {
  return [...index().values()].flat();
}
