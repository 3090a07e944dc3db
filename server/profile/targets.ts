/**
 * The systems that an app must run on, as far as anybody says so: first the device profile, then the build files, and where
 * both are silent an assumption that is marked as one. Pure; reading is `read.ts` and `gradle.ts`.
 */
import { FIRST_BLE_LEVEL } from './figures.js';
import type { GradleLevels } from './gradle.js';
import type { Span } from '../ir/ir.js';
import type { Platform, Problem, Profile } from './types.js';

export interface Targets {
  readonly android: AndroidTargets;
  /** Absent where the profile states none. */
  readonly browser?: BrowserTargets;
}

export interface AndroidTargets {
  /** Oldest API level. Assumed, it is the first that has Bluetooth LE, and a verdict that hangs on it is a hint. */
  readonly minimum: number;
  readonly origin: Origin;
  /** Where the minimum is stated. */
  readonly place?: Stated;
  readonly target?: number;
  readonly targetOrigin?: 'profile' | 'gradle';
}

export type Origin = 'profile' | 'gradle' | 'assumed';

export interface Stated {
  readonly path: string;
  readonly at: Span;
}

export interface BrowserTargets {
  /** Lower-case name of a browser or engine, and its oldest major version. */
  readonly minimum: readonly { readonly name: string; readonly version: number }[];
  readonly platforms: readonly Platform[];
}

/** @param gradle readings of the build files upward from the source, nearest first */
export function targetsOf(profile: Profile | undefined, gradle: readonly GradleLevels[] = []): Targets {
  const stated = profile?.targets.browser;
  const browser = stated === undefined ? undefined : {
    minimum: stated.minimum.map(({ name, version }) => ({ name, version })),
    platforms: stated.platforms.map(({ value }) => value),
  };
  return { android: { ...minimumOf(profile, gradle), ...targetOf(profile, gradle) }, ...(browser === undefined ? {} : { browser }) };
}

function minimumOf(profile: Profile | undefined, gradle: readonly GradleLevels[]): Pick<AndroidTargets, 'minimum' | 'origin' | 'place'> {
  const stated = profile?.targets.android?.minimum;
  if (profile !== undefined && stated !== undefined) return { minimum: stated.value, origin: 'profile', place: { path: profile.path, at: stated.at } };
  const build = decisive(gradle, 'minSdk');
  if (build?.minSdk !== undefined) return { minimum: build.minSdk.value, origin: 'gradle', place: { path: build.path, at: build.minSdk.at } };
  return { minimum: FIRST_BLE_LEVEL, origin: 'assumed' };
}

function targetOf(profile: Profile | undefined, gradle: readonly GradleLevels[]): Pick<AndroidTargets, 'target' | 'targetOrigin'> {
  const stated = profile?.targets.android?.target;
  if (stated !== undefined) return { target: stated.value, targetOrigin: 'profile' };
  const built = decisive(gradle, 'targetSdk')?.targetSdk;
  return built === undefined ? {} : { target: built.value, targetOrigin: 'gradle' };
}

/** The nearest build file that sets the level at all; if its value cannot be read, those further up do not count. */
function decisive(gradle: readonly GradleLevels[], name: 'minSdk' | 'targetSdk'): GradleLevels | undefined {
  return gradle.find((levels) => levels[name] !== undefined || levels.unresolved.some((level) => level.name === name));
}

/** The range of API levels for a sentence: what holds, and on whose word. */
export function describeRange({ android: { minimum, origin } }: Targets): string {
  switch (origin) {
    case 'profile': return `API level ${minimum} and later`;
    case 'gradle': return `API level ${minimum} and later (minSdk)`;
    case 'assumed': return `API level ${minimum} and later (assumed; neither a device profile nor a build file states a minimum)`;
  }
}

/** Whether the limits of Android count for a page: only if the profile wants the page to work there. */
export function runsOnAndroid({ browser }: Targets): boolean {
  return browser?.platforms.includes('android') === true;
}

/** A minimum in the profile above the one the app is built with: older systems would be installed on, and not checked. */
export function compareLevels(profile: Profile, gradle: readonly GradleLevels[]): Problem[] {
  const stated = profile.targets.android?.minimum;
  const build = decisive(gradle, 'minSdk');
  if (stated === undefined || build?.minSdk === undefined || stated.value <= build.minSdk.value) return [];
  return [{
    at: stated.at, severity: 'warning',
    message: `The app is built for API level ${build.minSdk.value} and later (${build.path}); the levels below ${stated.value} are not checked.`,
  }];
}
