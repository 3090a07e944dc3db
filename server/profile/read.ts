/**
 * Reads a device profile: text in, the profile and everything that is wrong with it out. Pure and total: no text makes it
 * throw, and what is wrong in one place never loses the rest.
 */
import { build } from './build.js';
import { check } from './checks.js';
import { readTree } from './tree.js';
import type { Problem, Profile } from './types.js';
import { validate } from './validate.js';

export interface Reading {
  /** Absent where the text holds no profile at all. */
  readonly profile?: Profile;
  /** In the order of the text. Their places are offsets in UTF-16 code units. */
  readonly problems: readonly Problem[];
}

export function readProfile(text: string, path: string): Reading {
  const { tree, problems: syntax } = readTree(text);
  if (tree === undefined) {
    const empty: Problem = { at: { start: 0, end: 0 }, message: 'This device profile is empty.', severity: 'warning' };
    return { problems: syntax.length > 0 ? syntax : [empty] };
  }
  if (tree.kind !== 'map') return { problems: syntax.length > 0 ? syntax : validate(tree) };
  const { profile, problems: spelling } = build(tree, path);
  const meaning = [...validate(tree), ...spelling, ...check(profile)];
  return { profile, problems: inOrder([...syntax, ...(isBroken(syntax) ? meaning.filter(isError) : meaning)]) };
}

/** Where the syntax is broken, keys end up in places where nobody put them: then what is only doubtful waits. */
function isBroken(syntax: readonly Problem[]): boolean {
  return syntax.some(isError);
}

function isError({ severity }: Problem): boolean {
  return severity === 'error';
}

/** By place, and each once: a part that an alias repeats is wrong only once. */
function inOrder(problems: readonly Problem[]): readonly Problem[] {
  const once = new Map(problems.map((problem) => [`${problem.at.start} ${problem.at.end} ${problem.message}`, problem]));
  return [...once.values()].sort((a, b) => a.at.start - b.at.start || a.at.end - b.at.end);
}
