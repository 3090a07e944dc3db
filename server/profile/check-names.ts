/** Functions that a profile names and the sources do not have (any more). */
import { nearest } from './near.js';
import type { FunctionName, Problem, Profile } from './types.js';

/**
 * @param exists whether a function of that name (`Class.function`, or bare) is declared anywhere in the sources
 * @param known names to suggest from, if there are any
 */
export function checkNames(profile: Profile, exists: (name: string) => boolean, known: readonly string[] = []): Problem[] {
  const sought = (functions: readonly FunctionName[], severity: Problem['severity'], effect: string): Problem[] =>
    functions
      .filter(({ name }) => !exists(name))
      .map(({ name, span }) => {
        const near = newName(name, known);
        return { at: span, message: `No function "${name}" is declared in the sources${effect}.${near === undefined ? '' : ` Did you mean "${near}"?`}`, severity };
      });
  return [
    ...sought(profile.queue?.functions ?? [], 'warning', ', so no operation can go through it'),
    ...sought(profile.teardown?.functions ?? [], 'warning', ', so nothing is closed in it'),
    ...sought(profile.wrappers, 'warning', ''),
  ].sort((a, b) => a.at.start - b.at.start);
}

/** A function of the same name elsewhere, or one of nearly the same name in the same class. */
function newName(name: string, known: readonly string[]): string | undefined {
  const [owner, own] = split(name);
  const moved = known.find((candidate) => split(candidate)[1] === own);
  if (moved !== undefined) return moved;
  const beside = known.filter((candidate) => split(candidate)[0] === owner);
  const near = nearest(own, beside.map((candidate) => split(candidate)[1]));
  return beside.find((candidate) => split(candidate)[1] === near);
}

/** The class with its dot, empty for none, and the bare name. */
function split(name: string): readonly [string, string] {
  const dot = name.lastIndexOf('.') + 1;
  return [name.slice(0, dot), name.slice(dot)];
}
