/**
 * Checks one file of a snapshot: from its facts to what is said about it. Which file, when, and what becomes of the
 * answer is decided elsewhere. Never throws: whatever goes wrong inside becomes a problem of that file.
 */
import type { Facts } from '../facts/facts.js';
import { applyAcceptances, type Accepted } from '../engine/accepted.js';
import { nothingCovered, type Coverage } from '../engine/coverage.js';
import type { Finding, Rule } from '../engine/rule.js';
import { runRules, type RuleProblem } from '../engine/run.js';
import type { Settings } from '../engine/settings.js';
import type { File } from '../ir/ir.js';
import { faceOf, type Face } from './face.js';
import { fileKind } from './files.js';
import type { Consulted } from './freshness.js';
import type { Snapshot } from './snapshot.js';

/** The parts of the analysis behind a check, given in by the roots, and by tests. */
export interface Checker {
  readonly rules: readonly Rule[];
  /** Asks for facts about one source, in what surrounds it (profile, target levels). */
  withFacts<T>(path: string, snapshot: Snapshot, ask: (facts: Facts) => T): Asked<T>;
  /** A text that is equal as long as what surrounds the file is equal. */
  surroundings(path: string, snapshot: Snapshot): string;
  /** Whether a source has anything to do with a link; absent: every one has. */
  concerns?(path: string, snapshot: Snapshot): boolean;
  /** What is wrong with a device profile, its words held against the program. */
  profileFindings(path: string, snapshot: Snapshot): readonly Finding[];
  /** Milliseconds, rising; absent: rules are not timed. */
  readonly clock?: () => number;
}

/** An answer, and what it rests on. */
export interface Asked<T> {
  readonly answer: T;
  readonly consulted: Consulted;
  /** Whether the file has anything to do with a link; absent: it always has. */
  readonly concerned?: boolean;
  readonly coverage: Coverage;
  /** A text that is equal for equal effects of the file's functions on their callers; absent: not told apart from the file's text. */
  readonly effects?: string;
  /** A profile whose places are those of an earlier text, so that no finding may point into it. */
  readonly staleProfile?: string;
}

export interface FileCheck {
  readonly path: string;
  /** The text that was checked, and its version when an editor held it. */
  readonly text: string;
  readonly version?: number;
  readonly findings: readonly Finding[];
  readonly accepted: readonly Accepted[];
  readonly problems: readonly RuleProblem[];
  /** Milliseconds by rule. */
  readonly times: ReadonlyMap<string, number>;
  readonly coverage: Coverage;
  readonly consulted: Consulted;
  /** Whether it was taken to have anything to do with a link; absent: that was not asked. */
  readonly concerned?: boolean;
  readonly face: Face;
}

const noFace: Face = { digest: '', heads: new Map() };

export function checkFile(path: string, snapshot: Snapshot, checker: Checker, settings: Settings): FileCheck {
  const version = snapshot.versionOf(path);
  const blank: FileCheck = {
    path, text: snapshot.textOf(path) ?? '', ...(version !== undefined && { version }),
    findings: [], accepted: [], problems: [], times: new Map(), coverage: nothingCovered, consulted: new Set(), face: noFace,
  };
  try {
    if (fileKind(path) === 'profile') return { ...blank, findings: checker.profileFindings(path, snapshot) };
    const file = snapshot.fileOf(path);
    return file === undefined ? blank : checkSource(file, blank, snapshot, checker, settings);
  } catch (thrown) {
    return { ...blank, problems: [analysisProblem(path, thrown)] };
  }
}

function checkSource(file: File, blank: FileCheck, snapshot: Snapshot, checker: Checker, settings: Settings): FileCheck {
  const { path, text } = blank;
  const { answer: run, ...about } = checker.withFacts(path, snapshot, (facts) =>
    runRules(checker.rules, facts, file, { settings, ...(checker.clock && { clock: checker.clock }) }));
  const failed = new Set(run.problems.map((problem) => problem.rule));
  const { open, accepted } = applyAcceptances(file, text, run.findings, {
    settings,
    ruleIds: new Set(checker.rules.map((rule) => rule.id)),
    complete: new Set([...run.times.keys()].filter((id) => !failed.has(id))),
  });
  return {
    ...blank,
    findings: open.map((finding) => withoutPlacesIn(about.staleProfile, finding)),
    accepted,
    problems: run.problems,
    times: run.times,
    coverage: about.coverage,
    consulted: about.consulted,
    ...(about.concerned !== undefined && { concerned: about.concerned }),
    face: faceOf(file, about.effects),
  };
}

function withoutPlacesIn(path: string | undefined, finding: Finding): Finding {
  if (path === undefined) return finding;
  const { lead, ...rest } = finding;
  return { ...rest, related: rest.related.filter((place) => place.path !== path), ...(lead && lead.path !== path && { lead }) };
}

/** The analysis itself gave way, not one rule: nothing is known about this file. */
function analysisProblem(path: string, thrown: unknown): RuleProblem {
  const isError = thrown instanceof Error;
  return {
    rule: 'analysis', path, message: isError ? thrown.message : String(thrown),
    ...(isError && thrown.stack !== undefined && { stack: thrown.stack }),
  };
}
