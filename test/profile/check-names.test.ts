/** Functions that a profile names, against those that the sources have. */
import { expect, it } from 'vitest';
import { checkNames } from '../../server/profile/check-names.js';
import { readProfile } from '../../server/profile/read.js';

const text = 'queue: [Queue.add, Queue.gone]\nteardown: [closeAll]\nwrappers: { Link.send: writes-value, Link.old: subscribes }';
const { profile } = readProfile(text, 'p');

it('are reported at their names when they exist nowhere', () => {
  const declared = new Set(['Queue.add', 'Link.send']);
  const problems = profile === undefined ? [] : checkNames(profile, (name) => declared.has(name));
  expect(problems.map(({ at, message, severity }) => [text.slice(at.start, at.end), severity, message])).toEqual([
    ['Queue.gone', 'warning', 'No function "Queue.gone" is declared in the sources, so no operation can go through it.'],
    ['closeAll', 'warning', 'No function "closeAll" is declared in the sources, so nothing is closed in it.'],
    ['Link.old', 'warning', 'No function "Link.old" is declared in the sources.'],
  ]);
});

it('come with the name that they may have now: moved to another class, or mistyped in the same', () => {
  const known = ['Queue.add', 'Link.send', 'Hive.old', 'closeEverything', 'Queue.goner'];
  const problems = profile === undefined ? [] : checkNames(profile, (name) => known.includes(name), known);
  expect(problems.map(({ message }) => /Did you mean "(.*)"/.exec(message)?.[1])).toEqual(['Queue.goner', undefined, 'Hive.old']);
});

it('are all well when all exist', () => {
  expect(profile === undefined ? undefined : checkNames(profile, () => true)).toEqual([]);
});
