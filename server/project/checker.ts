/**
 * The real parts behind a project: front ends, resolver, facts, profiles. Tests of the project's own logic put others in
 * their place; both roots put in these, so that the editor and the command line say the same.
 */
import type { Against } from '../effects/limits.js';
import type { EditSources } from '../engine/edits.js';
import type { Rule } from '../engine/rule.js';
import { analysisOf, concerns, factsOf } from '../facts/index.js';
import { lower } from '../frontend/index.js';
import type { Language } from '../ir/ir.js';
import { budgetOf } from '../profile/budget.js';
import { runsOnAndroid } from '../profile/targets.js';
import { link, resolver } from '../resolve/index.js';
import type { Checker } from './check.js';
import type { Linking, Snapshot } from './snapshot.js';
import type { Surrounding, Surroundings } from './surroundings.js';
import { writers } from './writers.js';

export const linking: Linking = { lower, link, resolver };

type Analysis = ReturnType<typeof analysisOf>;

/** @param clock milliseconds, rising; absent: rules are not timed */
export function checkerOf(rules: readonly Rule[], surroundings: Surroundings, clock?: () => number): Checker {
  const analyses = new Analyses();
  return {
    rules,
    ...(clock && { clock }),
    surroundings: (path, snapshot) => surroundings.of(path, snapshot).key,
    profileFindings: (path, snapshot) => surroundings.findings(path, snapshot),
    concerns: (path, snapshot) => concerns(analyses.of(surroundings.of(path, snapshot), snapshot), snapshot.fileOf(path)!),
    withFacts(path, snapshot, ask) {
      const setting = surroundings.of(path, snapshot);
      const file = snapshot.fileOf(path)!;
      const analysis = analyses.of(setting, snapshot);
      const about = factsOf(analysis, file, snapshot.textOf(path)!, setting, registrationsAgainst(file.language, setting));
      const { result, files } = analysis.tracking(() => ask(about.facts));
      return { answer: result, consulted: files, concerned: about.concerned, coverage: about.covered, ...(setting.staleProfile !== undefined && { staleProfile: setting.staleProfile }) };
    },
  };
}

/**
 * One analysis serves all files of a program that are under one profile, as each answer is computed once in it; and the
 * next program too, as long as the resolver goes on.
 */
class Analyses {
  private resolver: Snapshot['resolver'] | undefined;
  private readonly known = new Map<string, Analysis>();

  of({ profile, key }: Surrounding, snapshot: Snapshot): Analysis {
    if (snapshot.resolver !== this.resolver) {
      this.resolver = snapshot.resolver;
      this.known.clear();
    }
    const place = profile === undefined ? '' : key;
    let analysis = this.known.get(place);
    if (analysis === undefined) this.known.set(place, analysis = analysisOf(snapshot.resolver, profile));
    return analysis;
  }
}

/** What the oldest target grants counts for an app, and for a page only where the profile wants it to run on Android. */
function registrationsAgainst(language: Language, { targets, profile }: Surrounding): Against | undefined {
  if (language === 'typescript' && !runsOnAndroid(targets)) return undefined;
  const listed = profile && budgetOf(profile, targets).subscriptions.length;
  return { minimum: targets.android.minimum, ...(listed && { listed }) };
}

/** Where a fix finds the texts and models that it changes. */
export function editSources(snapshot: Snapshot): EditSources {
  return { writers, textOf: (path) => snapshot.textOf(path), fileOf: (path) => snapshot.fileOf(path) };
}
