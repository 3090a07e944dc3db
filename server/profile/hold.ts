/**
 * Which reading of a profile is in force while somebody edits it: the last good one, so that a half-typed line changes no
 * finding elsewhere. A pure step from what was held and what was read to what is held now.
 */
import type { Reading } from './read.js';
import type { Problem, Profile } from './types.js';

export interface Held {
  /** What the checks go by; absent where nothing was ever readable. */
  readonly profile?: Profile;
  /** Whether `profile` was read without an error. One that was not gives way to the next one, good or not. */
  readonly good: boolean;
  /**
   * Whether `profile` is of an earlier text than the problems: its places are offsets in that earlier text, so nothing
   * should point at them.
   */
  readonly stale: boolean;
  /** What is wrong with the newest text. */
  readonly problems: readonly Problem[];
}

export const NOTHING: Held = { good: false, stale: false, problems: [] };

/** @param reading of the newest text; absent where the file is gone, and with it what it said */
export function hold(previous: Held, reading: Reading | undefined): Held {
  if (reading === undefined) return NOTHING;
  const { profile, problems } = reading;
  const good = problems.every(({ severity }) => severity !== 'error');
  if (profile !== undefined && (good || !previous.good)) return { profile, good, stale: false, problems };
  if (previous.profile === undefined) return { good: false, stale: false, problems };
  return { ...previous, stale: true, problems };
}
