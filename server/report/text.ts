/**
 * Findings for people at a terminal. A finding's first line begins with `path:line:column`, which terminals make
 * clickable; what belongs to it is indented below.
 */
import type { Finding } from '../engine/rule.js';
import { relativePath } from '../project/paths.js';
import { Lines } from './lines.js';
import { levelsText } from './releases.js';
import { countBySeverity, type CheckReport } from './report.js';

/** Whole report, with a newline at its end. */
export function textReport(report: CheckReport): string {
  const places = new Places(report);
  const paragraphs = [
    report.checks.flatMap((check) => check.findings.map((finding) => findingText(finding, places))).join('\n'),
    problemsText(report),
    report.notes.map(({ path, message }) => `${relativePath(report.base, path)}: ${message}`).join('\n'),
    report.assumed.map((sentence) => `Assumed: ${sentence}`).join('\n'),
    summary(report),
  ];
  return paragraphs.filter((text) => text !== '').join('\n\n') + '\n';
}

/** `app/Link.kt:3:7`, for places in any file of the project; each text is cut into lines once. */
export class Places {
  private readonly lines = new Map<string, Lines>();

  constructor(private readonly report: Pick<CheckReport, 'base' | 'textOf'>) {}

  of(path: string, offset: number): string {
    const { line, column } = this.linesOf(path).position(offset);
    return `${relativePath(this.report.base, path)}:${line}:${column}`;
  }

  private linesOf(path: string): Lines {
    let lines = this.lines.get(path);
    if (lines === undefined) this.lines.set(path, lines = new Lines(this.report.textOf(path) ?? ''));
    return lines;
  }
}

function findingText(finding: Finding, places: Places): string {
  const lines = [`${places.of(finding.path, finding.at.start)}: ${finding.severity}: ${finding.message} [${finding.rule}]`];
  if (finding.apiLevels) lines.push(`    on ${levelsText(finding.apiLevels)}`);
  for (const { path, at, message } of finding.related) lines.push(`    ${places.of(path, at.start)}: ${message}`);
  if (finding.lead) lines.push(`    ${places.of(finding.lead.path, finding.lead.at.start)}: ${finding.lead.title}`);
  return lines.join('\n');
}

/** A slip of ours costs the findings of one rule in one file; to say nothing of it would pass for a clean result. */
function problemsText({ checks, base }: CheckReport): string {
  return checks
    .flatMap((check) => check.problems)
    .map(({ rule, path, message }) => `${relativePath(base, path)}: not checked by ${rule}: internal error: ${message}`)
    .join('\n');
}

function summary(report: CheckReport): string {
  const { error, warning, hint } = countBySeverity(report.checks);
  const accepted = report.checks.reduce((sum, check) => sum + check.accepted.length, 0);
  const found = [
    ...(error > 0 ? [counted(error, 'error')] : []),
    ...(warning > 0 ? [counted(warning, 'warning')] : []),
    ...(hint > 0 ? [counted(hint, 'hint')] : []),
  ];
  const files = counted(report.checks.length, 'file');
  return `${found.length > 0 ? found.join(', ') : 'No findings'} in ${files}${accepted > 0 ? `; ${accepted} accepted` : ''}.`;
}

export function counted(count: number, noun: string): string {
  return `${count} ${noun}${count === 1 ? '' : 's'}`;
}
