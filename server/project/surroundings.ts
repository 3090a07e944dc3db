/**
 * What surrounds a source: the device profile in force, the API levels its build files state, and the targets that follow
 * from both. Reads each profile and build file once a text; while a profile is half typed its last good reading holds.
 */
import { digest } from '../engine/hash.js';
import type { Finding, Severity } from '../engine/rule.js';
import type { Program } from '../resolve/api.js';
import { checkNames } from '../profile/check-names.js';
import { readGradle, type GradleLevels } from '../profile/gradle.js';
import { hold, NOTHING, type Held } from '../profile/hold.js';
import { contested, nearestProfile, upward } from '../profile/nearest.js';
import { readProfile } from '../profile/read.js';
import { compareLevels, describeRange, targetsOf, type Targets } from '../profile/targets.js';
import type { Problem, Profile } from '../profile/types.js';
import { relativePath } from './paths.js';
import type { Snapshot } from './snapshot.js';

export interface Surrounding {
  readonly profile?: Profile;
  readonly targets: Targets;
  /** Equal as long as all of this is equal. */
  readonly key: string;
  /** The profile's places are offsets in an earlier text of it: nothing may point at them. */
  readonly staleProfile?: string;
}

/** What the device profile's own findings are reported by. */
export const profileRule = {
  id: 'device-profile',
  title: 'The device profile cannot be right as it is written',
  harm: 'What the profile states is not what the checks go by, so they miss faults or report what is none.',
  severity: 'error',
} as const satisfies { id: string; title: string; harm: string; severity: Severity };

interface ReadProfile {
  readonly text: string;
  readonly held: Held;
  /** Digest of the text that `held.profile` was read from. */
  readonly digest: string;
}

export class Surroundings {
  private profiles = new Map<string, ReadProfile>();
  private builds = new Map<string, { readonly text: string; readonly levels: GradleLevels }>();
  private seen: Snapshot | undefined;
  private readonly known = new Map<string, Surrounding>();

  of(path: string, snapshot: Snapshot): Surrounding {
    this.read(snapshot);
    const profilePath = nearestProfile(path, [...this.profiles.keys()]);
    const read = profilePath === undefined ? undefined : this.profiles.get(profilePath)!;
    const builds = upward(path, [...this.builds.keys()]);
    const place = [profilePath, ...builds].join('\n');
    let known = this.known.get(place);
    if (known === undefined) this.known.set(place, known = this.compute(read, builds));
    return known;
  }

  /** What is wrong with a profile: its text, its neighbours in the folder, and what it says of the program. */
  findings(path: string, snapshot: Snapshot): Finding[] {
    this.read(snapshot);
    const { held } = this.profiles.get(path)!;
    const problems = [...held.problems];
    for (const one of contested([...this.profiles.keys()])) if (one.path === path) problems.push(one.problem);
    if (held.profile !== undefined && !held.stale) {
      const builds = upward(path, [...this.builds.keys()]).map((build) => this.builds.get(build)!.levels);
      problems.push(...compareLevels(held.profile, builds), ...namesMissing(held.profile, snapshot.program));
    }
    return problems.map((problem) => findingOf(problem, path));
  }

  /** What holds for these sources only because nothing says otherwise; one sentence each. */
  assumed(paths: readonly string[], snapshot: Snapshot, base: string): string[] {
    const surroundings = paths.map((path) => ({ path, ...this.of(path, snapshot) }));
    const sentences: string[] = [];
    const bare = surroundings.filter(({ profile }) => profile === undefined);
    if (bare.length > 0) {
      sentences.push(`${scope(bare, surroundings, base)} no device profile (*.device.yaml) in force, so the app’s own queue and teardown are looked for, and nothing is known of the device.`);
    }
    const unstated = surroundings.filter(({ path, targets }) => path.endsWith('.kt') && targets.android.origin === 'assumed');
    const [first] = unstated;
    if (first !== undefined) {
      sentences.push(`${scope(unstated, surroundings, base)} no stated oldest Android release: ${describeRange(first.targets)}.`);
    }
    return sentences;
  }

  private compute(read: ReadProfile | undefined, builds: readonly string[]): Surrounding {
    const profile = read?.held.profile;
    const targets = targetsOf(profile, builds.map((path) => this.builds.get(path)!.levels));
    return {
      targets,
      key: [profile?.path, read?.digest, read?.held.stale, JSON.stringify(targets)].join('\n'),
      ...(profile !== undefined && { profile }),
      ...(profile !== undefined && read?.held.stale === true && { staleProfile: profile.path }),
    };
  }

  private read(snapshot: Snapshot): void {
    if (snapshot === this.seen) return;
    this.seen = snapshot;
    const profiles = new Map(snapshot.paths('profile').map((path) => [path, this.readProfile(path, snapshot.textOf(path)!)]));
    const buildPaths = snapshot.paths('build');
    const isSame = sameEntries(profiles, this.profiles)
      && buildPaths.length === this.builds.size && buildPaths.every((path) => this.builds.get(path)?.text === snapshot.textOf(path));
    if (isSame) return;
    this.known.clear();
    this.profiles = profiles;
    this.builds = new Map();
    // From the top down, since a build file may use the constants of those above it.
    for (const path of [...buildPaths].sort((a, b) => a.split('/').length - b.split('/').length)) {
      const text = snapshot.textOf(path)!;
      const above = upward(path, [...this.builds.keys()]).map((build) => this.builds.get(build)!.levels);
      this.builds.set(path, { text, levels: readGradle(text, path, above) });
    }
  }

  private readProfile(path: string, text: string): ReadProfile {
    const before = this.profiles.get(path);
    if (before?.text === text) return before;
    const held = hold(before?.held ?? NOTHING, readProfile(text, path));
    return { text, held, digest: held.stale && before !== undefined ? before.digest : digest(text) };
  }
}

function sameEntries<V>(a: ReadonlyMap<string, V>, b: ReadonlyMap<string, V>): boolean {
  return a.size === b.size && [...a].every(([key, value]) => b.get(key) === value);
}

function findingOf(problem: Problem, path: string): Finding {
  return {
    rule: profileRule.id, severity: problem.severity, path, at: problem.at, message: problem.message, fixes: [], within: '',
    related: (problem.related ?? []).map((place) => ({ path, ...place })),
  };
}

/** `All 12 files have`, `3 of 12 files (app/a.kt, …) have`. */
function scope(some: readonly { readonly path: string }[], all: readonly unknown[], base: string): string {
  if (some.length === all.length) return all.length === 1 ? 'The file has' : `All ${all.length} files have`;
  return `${some.length} of ${all.length} files (${relativePath(base, some[0]!.path)}${some.length > 1 ? ', …' : ''}) ${some.length === 1 ? 'has' : 'have'}`;
}

// ---- The profile's words in the program ---------------------------------

function namesMissing(profile: Profile, program: Program): Problem[] {
  const exists = (name: string): boolean => isDeclared(name, program);
  const names = [...(profile.queue?.functions ?? []), ...(profile.teardown?.functions ?? []), ...profile.wrappers];
  if (names.every(({ name }) => exists(name))) return [];
  return checkNames(profile, exists, functionNames(program));
}

/** `Class.function`, or a bare `function`; a property that holds a function counts as one. */
function isDeclared(name: string, program: Program): boolean {
  const dot = name.lastIndexOf('.');
  const own = name.slice(dot + 1);
  const declarations = [...program.functionsNamed(own), ...program.fieldsNamed(own)];
  if (dot < 0) return declarations.length > 0;
  return declarations.some((declaration) => program.ownerOf(declaration)?.name === name.slice(name.lastIndexOf('.', dot - 1) + 1, dot));
}

function functionNames(program: Program): string[] {
  const names = new Set<string>();
  for (const file of program.files.values()) {
    for (const declaration of file.declarations) {
      if (declaration.kind === 'Fn' && declaration.name !== undefined) names.add(declaration.name);
      if (declaration.kind === 'Class') for (const fn of declaration.functions) names.add(`${declaration.name ?? ''}.${fn.name ?? ''}`);
    }
  }
  return [...names].sort();
}
