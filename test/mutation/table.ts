/** The table that a run prints, and what stands below it. The same mutants give the same text. */
import { operators } from './operators/index.js';
import type { Verdict } from './judge.js';
import { misses, missesByReason } from './misses.js';

export const LEAST_SHARE = 0.95;

export interface Sum {
  readonly planted: number;
  readonly equivalent: number;
  readonly found: number;
  readonly extra: number;
}

/** Equivalent mutants are not among those that have to be found. */
export function sumOf(verdicts: readonly Verdict[]): Sum {
  const owed = verdicts.filter(({ mutant }) => mutant.equivalent === undefined);
  return {
    planted: verdicts.length, equivalent: verdicts.length - owed.length,
    found: owed.filter(({ outcome }) => outcome === 'found').length,
    extra: verdicts.filter(({ extra }) => extra.length > 0).length,
  };
}

export function shareOf({ planted, equivalent, found }: Sum): number {
  return planted === equivalent ? 1 : found / (planted - equivalent);
}

export function isGood(sum: Sum): boolean {
  return shareOf(sum) >= LEAST_SHARE && sum.extra === 0;
}

export function tableOf(verdicts: readonly Verdict[]): string {
  const rows = operators.map(({ name, plants, rule }) => {
    const sum = sumOf(verdicts.filter(({ mutant }) => mutant.operator === name));
    return `| ${name} | ${plants} | ${rule} | ${cells(sum)} |`;
  });
  return [
    '| operator | what is planted | rule | planted | equivalent | found | share | with an extra finding |',
    '|---|---|---|---:|---:|---:|---:|---:|',
    ...rows,
    `| **all** | | | ${cells(sumOf(verdicts))} |`,
  ].join('\n');
}

function cells(sum: Sum): string {
  const share = sum.planted === sum.equivalent ? '–' : `${(100 * shareOf(sum)).toFixed(0)} %`;
  return [sum.planted, sum.equivalent, sum.found, share, sum.extra].join(' | ');
}

/** One mutant: its operator, the files it changes, and what is new about them. */
export function textOf({ mutant, texts, outcome, news }: Verdict): string {
  return [`${mutant.operator}: ${outcome}`, ...news, ...[...texts].flatMap(([path, text]) => [`--- ${path}`, text])].join('\n');
}

/** Mutants that were missed, lit something else up, or change nothing; the last by their reasons. */
export function notesOn(verdicts: readonly Verdict[]): string {
  const missed = verdicts.filter(({ outcome }) => outcome === 'missed' || outcome === 'broken');
  const found = new Set(verdicts.filter(({ outcome }) => outcome === 'found').map(nameOf));
  const extra = verdicts.filter((verdict) => verdict.extra.length > 0);
  const reasons = new Map<string, string[]>();
  for (const verdict of verdicts) {
    const reason = verdict.mutant.equivalent;
    if (reason !== undefined) reasons.set(reason, [...(reasons.get(reason) ?? []), nameOf(verdict)]);
  }
  return [
    ...section('Not found', missed.flatMap((verdict) => [`- ${nameOf(verdict)} (${reasonOf(verdict)})`, ...verdict.news.map((one) => `    ${one}`)])),
    ...section('Listed as missed, but found', misses.map(({ at, operator }) => `${at} ${operator}`).filter((name) => found.has(name)).map((name) => `- ${name}`)),
    ...section('With something else', extra.flatMap((verdict) => [`- ${nameOf(verdict)}`, ...verdict.extra.map((one) => `    ${one}`)])),
    ...section('Equivalent', [...reasons].flatMap(([reason, mutants]) => [`- ${reason}:`, ...mutants.map((one) => `    ${one}`)])),
  ].join('\n');
}

function nameOf({ at, mutant }: Verdict): string {
  return `${at} ${mutant.operator}`;
}

function reasonOf({ at, mutant }: Verdict): string {
  const known = Object.entries(missesByReason).find(([, ones]) => ones.some((one) => one.at === at && one.operator === mutant.operator));
  return known?.[0] ?? 'not known before';
}

function section(title: string, lines: readonly string[]): readonly string[] {
  return lines.length === 0 ? [] : ['', `${title}:`, ...lines];
}
