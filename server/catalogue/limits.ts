/**
 * What each Android release grants: registrations, links, clients, scan starts, sizes. Figures are those of the Android
 * Open Source Project; before Android 13 makers could build other ones in (`firmFrom`). Limits of the user's own device
 * are the profile's matter.
 */
import { limitRows } from './data.js';
import type { LimitRange, OsLimit } from './types.js';

let built: readonly OsLimit[] | undefined;

export function allLimits(): readonly OsLimit[] {
  return (built ??= limitRows.map((row) => ({
    ...row,
    ranges: row.ranges.map((range) => ({ ...range, value: range.value === 'none' ? Infinity : range.value })),
  })));
}

/** @throws Error for a name that the catalogue does not hold: a slip of ours, not of the user's. */
export function osLimit(name: string): OsLimit {
  const limit = allLimits().find((each) => each.name === name);
  if (limit === undefined) throw new Error(`no such limit: ${name}`);
  return limit;
}

/** The value at an API level. Levels below the first range count as its first, for there is no GATT below it. */
export function limitAt(limit: OsLimit, apiLevel: number): number {
  return rangeAt(limit, apiLevel).value;
}

/** The range that holds an API level. */
export function rangeAt(limit: OsLimit, apiLevel: number): LimitRange {
  const [first, ...later] = limit.ranges;
  if (first === undefined) throw new Error(`limit without ranges: ${limit.name}`);
  return later.reduce((found, range) => (range.from <= apiLevel ? range : found), first);
}

/**
 * The ranges that matter to an app which runs on these API levels, inclusive, cut to them; `maximum` absent: and later.
 * Neighbours with one value stay apart, as the releases do.
 */
export function limitRanges(limit: OsLimit, minimum: number, maximum = Infinity): readonly LimitRange[] {
  return limit.ranges
    .filter((range) => (range.to ?? Infinity) >= minimum && range.from <= maximum)
    .map(({ to = Infinity, ...range }) => {
      const end = Math.min(to, maximum);
      return { ...range, from: Math.max(range.from, minimum), ...(Number.isFinite(end) ? { to: end } : {}) };
    });
}

/** The API levels from `minimum` on at which fewer than `count` are granted, inclusive; undefined when none. */
export function levelsBelow(limit: OsLimit, count: number, minimum: number): { readonly from: number; readonly to?: number } | undefined {
  const short = limitRanges(limit, minimum).filter((range) => range.value < count);
  const [first] = short;
  const last = short.at(-1);
  if (first === undefined || last === undefined) return undefined;
  return { from: first.from, ...(last.to === undefined ? {} : { to: last.to }) };
}
