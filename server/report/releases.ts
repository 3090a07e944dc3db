/** Android's API levels by the name of the release that people know. */

/** Source: Android SDK, `android.os.Build.VERSION_CODES`. */
const RELEASES: Readonly<Record<number, string>> = {
  18: '4.3', 19: '4.4', 20: '4.4W', 21: '5.0', 22: '5.1', 23: '6.0', 24: '7.0', 25: '7.1', 26: '8.0', 27: '8.1',
  28: '9', 29: '10', 30: '11', 31: '12', 32: '12L', 33: '13', 34: '14', 35: '15', 36: '16',
};

const FIRST = 18;

export function releaseOf(apiLevel: number): string | undefined {
  return RELEASES[apiLevel];
}

/** `Android 5.0 to 11 (API 21–30)`, `Android 13 and later (API 33+)`, `Android up to 4.4 (API 19 and lower)`, `Android 12 (API 31)`. */
export function levelsText({ from, to }: { readonly from: number; readonly to?: number }): string {
  const name = (level: number): string => RELEASES[level] ?? `API ${level}`;
  if (to === undefined) return from <= FIRST ? 'every Android release' : `Android ${name(from)} and later (API ${from}+)`;
  if (from === to) return `Android ${name(from)} (API ${from})`;
  if (from <= FIRST) return `Android up to ${name(to)} (API ${to} and lower)`;
  return `Android ${name(from)} to ${name(to)} (API ${from}–${to})`;
}
