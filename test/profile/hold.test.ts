/** Which reading of a profile is in force while it is being edited. */
import { expect, it } from 'vitest';
import { hold, NOTHING, type Held } from '../../server/profile/hold.js';
import { readProfile } from '../../server/profile/read.js';

/** The device's name in force, and whether it is of an earlier text, after each of these texts; `null`: the file is gone. */
function after(...texts: readonly (string | null)[]): [string | undefined, 'stale' | 'fresh', number][] {
  let held: Held = NOTHING;
  return texts.map((text) => {
    held = hold(held, text === null ? undefined : readProfile(text, 'p'));
    return [held.profile?.device.name?.value, held.stale ? 'stale' : 'fresh', held.problems.length];
  });
}

it('is the newest without an error', () => {
  expect(after('device: { name: A }', 'device: { name: B }')).toEqual([['A', 'fresh', 0], ['B', 'fresh', 0]]);
});

it('takes no offence at warnings', () => {
  expect(after('device: { name: A }', 'device: { name: B, colour: red }')).toEqual([['A', 'fresh', 0], ['B', 'fresh', 1]]);
});

it('stays the last good one while the newest has errors, whose problems are shown', () => {
  expect(after('device: { name: A }', 'device: { name: B }\nservices: [{ uuid: 29 }]', 'device: {', '', 'device: { name: C }')).toEqual([
    ['A', 'fresh', 0], ['A', 'stale', 1], ['A', 'stale', 1], ['A', 'stale', 1], ['C', 'fresh', 0],
  ]);
});

it('is the readable part where none was ever good, and the newest such part', () => {
  expect(after('device: { name: A }\nlink: { peripherals: 0 }', 'device: { name: B }\nlink: { peripherals: 0 }', '')).toEqual([
    ['A', 'fresh', 1], ['B', 'fresh', 1], ['B', 'stale', 1],
  ]);
});

it('is none where nothing was ever readable', () => {
  expect(after('', '- a')).toEqual([[undefined, 'fresh', 1], [undefined, 'fresh', 1]]);
});

it('goes when the file goes', () => {
  expect(after('device: { name: A }', null, '')).toEqual([['A', 'fresh', 0], [undefined, 'fresh', 0], [undefined, 'fresh', 1]]);
});
