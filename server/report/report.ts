/** What every form of report is made of. Paths in it are absolute; each form writes them relative to `base`. */
import type { Severity } from '../engine/rule.js';
import type { FileCheck } from '../project/check.js';

export interface CheckReport {
  /** One for each file that was asked for, in the order of paths. */
  readonly checks: readonly FileCheck[];
  /** The folder that paths are written from. */
  readonly base: string;
  /** The text of any file that a finding or a fix points into. */
  textOf(path: string): string | undefined;
  /** Files that were left out, and why. */
  readonly notes: readonly { readonly path: string; readonly message: string }[];
  /** What holds only because nothing says otherwise (no profile, unknown minimum), one sentence each. */
  readonly assumed: readonly string[];
}

/** What a report says of a rule, whether its findings come from a check, from a profile or from an acceptance. */
export interface RuleText {
  readonly id: string;
  readonly title: string;
  readonly harm: string;
  readonly severity: Severity;
  /** The rule's page, in Markdown. */
  readonly page?: string;
}

export function countBySeverity(checks: readonly FileCheck[]): Readonly<Record<Severity, number>> {
  const counts = { error: 0, warning: 0, hint: 0 };
  for (const check of checks) for (const finding of check.findings) counts[finding.severity]++;
  return counts;
}
