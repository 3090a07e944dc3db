/**
 * Runs rules over the facts of one file and makes findings of their drafts.
 *
 * A rule that throws costs its own findings in that file and nothing else. What is accepted by a comment is decided in
 * `accepted.ts`, how a fix is printed in `edits.ts`.
 */
import type { Facts } from '../facts/facts.js';
import type { File, Span } from '../ir/ir.js';
import type { Draft, Finding, Rule } from './rule.js';
import { levelOf, type Settings } from './settings.js';
import { within } from './within.js';

export interface Run {
  /** By place, then rule id, then message. */
  readonly findings: readonly Finding[];
  /** Rules that threw; their findings in this file are left out. */
  readonly problems: readonly RuleProblem[];
  /** Milliseconds by rule id, in the order in which they ran. */
  readonly times: ReadonlyMap<string, number>;
}

export interface RuleProblem {
  readonly rule: string;
  readonly path: string;
  readonly message: string;
  /** Where it was thrown, for a bug report; never shown unasked. */
  readonly stack?: string;
}

export interface RunOptions {
  readonly settings: Settings;
  /** Milliseconds, rising; absent: nothing is timed. */
  readonly clock?: () => number;
}

export function runRules(rules: readonly Rule[], facts: Facts, file: File, options: RunOptions): Run {
  const clock = options.clock ?? (() => 0);
  const findings: Finding[] = [];
  const problems: RuleProblem[] = [];
  const times = new Map<string, number>();
  for (const rule of rules) {
    if (options.settings.levels.get(rule.id) === 'off') continue;
    const from = clock();
    const outcome = draftsOf(rule, facts);
    times.set(rule.id, clock() - from);
    if ('thrown' in outcome) problems.push(problemOf(rule, file, outcome.thrown));
    else findings.push(...findingsOf(rule, outcome.drafts, file, options.settings));
  }
  return { findings: inOrder(withoutDuplicates(findings)), problems, times };
}

function draftsOf(rule: Rule, facts: Facts): { drafts: readonly Draft[] } | { thrown: unknown } {
  const drafts: Draft[] = [];
  try {
    rule.check(facts, (draft) => drafts.push(draft));
    return { drafts };
  } catch (thrown) {
    return { thrown };
  }
}

function problemOf(rule: Rule, file: File, thrown: unknown): RuleProblem {
  const isError = thrown instanceof Error;
  return {
    rule: rule.id,
    path: file.path,
    message: isError ? thrown.message : String(thrown),
    ...(isError && thrown.stack !== undefined && { stack: thrown.stack }),
  };
}

function findingsOf(rule: Rule, drafts: readonly Draft[], file: File, settings: Settings): Finding[] {
  const found: Finding[] = [];
  for (const draft of drafts) {
    if (file.unreadable.some((range) => touches(range, draft.at))) continue;
    const severity = levelOf(rule, draft.severity, settings);
    if (severity === 'off') continue;
    found.push({
      rule: rule.id,
      severity,
      path: file.path,
      at: draft.at,
      message: draft.message,
      related: (draft.related ?? []).map(({ path = file.path, at, message }) => ({ path, at, message })),
      fixes: draft.fixes ?? [],
      within: within(file, draft.at),
      ...(draft.apiLevels && { apiLevels: draft.apiLevels }),
      ...(draft.lead && { lead: draft.lead }),
    });
  }
  return found;
}

/** Whether two ranges share text; an empty one, where the parser lost something, touches what it stands in or beside. */
export function touches(a: Span, b: Span): boolean {
  const start = Math.max(a.start, b.start);
  const end = Math.min(a.end, b.end);
  return start < end || (start === end && (a.start === a.end || b.start === b.end));
}

/** The first of several findings of one rule at one place stays: a rule that comes to a place twice says it once. */
function withoutDuplicates(findings: readonly Finding[]): Finding[] {
  const seen = new Set<string>();
  return findings.filter(({ rule, at }) => {
    const key = `${rule} ${at.start} ${at.end}`;
    if (seen.has(key)) return false;
    seen.add(key);
    return true;
  });
}

/** The order in which every report shows findings. */
export function inOrder(findings: readonly Finding[]): Finding[] {
  return [...findings].sort((a, b) =>
    compare(a.path, b.path) || a.at.start - b.at.start || a.at.end - b.at.end || compare(a.rule, b.rule) || compare(a.message, b.message));
}

/** By code unit, so that the order is the same on every machine. */
function compare(a: string, b: string): number {
  return a < b ? -1 : a > b ? 1 : 0;
}
