/**
 * Reads the sources under `test/rules/<rule-id>/` and holds the rule's findings against the marks in them.
 *
 * `//! <rule-id> <severity>` at the end of a line expects exactly that finding on that line; a file without a mark must be
 * silent, and its name says why. A file of its own is one case, held against the folder's rule alone, and so is a folder: the
 * files in it belong together. A folder `app-…` is held against every rule. `x.fixed.kt` is `x.kt` after the first fix of its first finding
 * that has one. Marks are taken out before anything reads the text, so that they are no comments to the analysis.
 */
import { existsSync, readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { rules } from '../../rules/index.js';
import { applyEdits, editsOf } from '../../server/engine/edits.js';
import type { Finding, Fix } from '../../server/engine/rule.js';
import { defaultSettings } from '../../server/engine/settings.js';
import { checkFile } from '../../server/project/check.js';
import { checkerOf, editSources, linking } from '../../server/project/checker.js';
import { Snapshot } from '../../server/project/snapshot.js';
import { Surroundings } from '../../server/project/surroundings.js';

const FOLDER = new URL('../rules/', import.meta.url).pathname;
const MARK = /[ \t]*\/\/! ([\w-]+) (error|warning|hint)[ \t]*$/;

export interface RuleCase {
  readonly name: string;
  /** Texts without marks, by path. */
  readonly files: ReadonlyMap<string, string>;
  /** `path:line rule severity`, in order. */
  readonly expected: readonly string[];
  /** Absent: every rule. */
  readonly rule?: string;
  /** The first file after the first fix. */
  readonly fixed?: string;
}

/** Every case of a rule, in the order of their names. */
export function casesOf(rule: string): readonly RuleCase[] {
  const folder = join(FOLDER, rule);
  const entries = readdirSync(folder, { withFileTypes: true }).sort((a, b) => (a.name < b.name ? -1 : 1));
  return entries.filter((entry) => !/\.fixed\.\w+$/.test(entry.name)).map((entry): RuleCase => {
    const place = join(folder, entry.name);
    if (entry.isDirectory()) {
      const names = readdirSync(place, { recursive: true, encoding: 'utf8' }).filter((name) => /\.\w+$/.test(name)).sort();
      const whole = caseOf(entry.name, names.map((name) => ({ path: name, text: readFileSync(join(place, name), 'utf8') })));
      return entry.name.startsWith('app-') ? whole : { ...whole, rule };
    }
    const after = place.replace(/\.(\w+)$/, '.fixed.$1');
    return {
      ...caseOf(entry.name, [{ path: entry.name, text: readFileSync(place, 'utf8') }]), rule,
      ...(existsSync(after) && { fixed: readFileSync(after, 'utf8') }),
    };
  });
}

/** A case from texts with marks. */
export function caseOf(name: string, sources: readonly { readonly path: string; readonly text: string }[]): RuleCase {
  const files = new Map<string, string>();
  const expected: string[] = [];
  for (const { path, text } of sources) {
    const lines = text.split('\n');
    lines.forEach((line, i) => {
      const mark = MARK.exec(line);
      if (mark === null) return;
      expected.push(`${path}:${i + 1} ${mark[1]} ${mark[2]}`);
      lines[i] = line.replace(MARK, '');
    });
    files.set(path, lines.join('\n'));
  }
  return { name, files, expected };
}

/**
 * What is found in these texts, in the order of places; by one rule, or by all. A rule that throws, or text that cannot be
 * read, fails the test.
 */
export function findingsIn(files: ReadonlyMap<string, string>, rule?: string): { readonly findings: readonly Finding[]; readonly snapshot: Snapshot } {
  const changes = [...files].map(([path, text]) => ({ is: 'disk', path, text } as const));
  const { snapshot } = Snapshot.empty(linking).apply(changes);
  const checker = checkerOf(rules.filter(({ id }) => rule === undefined || id === rule), new Surroundings());
  const findings = snapshot.paths('source').flatMap((path) => {
    expect(snapshot.fileOf(path)!.unreadable.map((span) => files.get(path)!.slice(span.start, span.end)), `unreadable in ${path}`).toEqual([]);
    const checked = checkFile(path, snapshot, checker, defaultSettings);
    expect(checked.problems).toEqual([]);
    return checked.findings;
  });
  return { findings, snapshot };
}

/** A finding as a mark would have it. */
export function placeOf({ path, at, rule, severity }: Finding, files: ReadonlyMap<string, string>): string {
  return `${path}:${files.get(path)!.slice(0, at.start).split('\n').length} ${rule} ${severity}`;
}

/** The texts after a fix, its questions answered as proposed; throws where the fix is refused. */
export function afterFix(files: ReadonlyMap<string, string>, snapshot: Snapshot, finding: Finding, fix: Fix): ReadonlyMap<string, string> {
  const outcome = editsOf(fix, finding.path, editSources(snapshot));
  if ('refused' in outcome) throw new Error(`${fix.title}: ${outcome.refused}`);
  const after = new Map(files);
  for (const { path, edits } of outcome.files) after.set(path, applyEdits(files.get(path)!, edits));
  return after;
}

/** Where a finding counts: what a fix may not add to. Another rule may word what it says of a function anew. */
const countedAt = ({ path, rule, within }: Finding): string => `${path} ${within} ${rule}`;

/** What the fix brought that was not there before, as sentences; and whether the finding is gone. */
export function changedBy(before: readonly Finding[], after: readonly Finding[], finding: Finding): { readonly added: readonly string[]; readonly gone: boolean } {
  const serious = (one: Finding): boolean => one.severity !== 'hint';
  const count = (all: readonly Finding[], key: string): number => all.filter((one) => countedAt(one) === key).length;
  const added = [...new Set(after.map(countedAt))].filter((key) =>
    count(after, key) > count(before, key) || count(after.filter(serious), key) > count(before.filter(serious), key));
  const same = (one: Finding): boolean => countedAt(one) === countedAt(finding) && one.message === finding.message;
  return { added, gone: after.filter(same).length < before.filter(same).length };
}

/** The tests of every case of a rule: its findings, and each of their fixes. */
export function testRule(rule: string): void {
  const cases = casesOf(rule);
  describe(`${rule}: sources`, () => {
    for (const one of cases) {
      it(one.name, () => {
        const { findings } = findingsIn(one.files, one.rule);
        expect(findings.map((finding) => placeOf(finding, one.files)).sort()).toEqual([...one.expected].sort());
      });
    }
  });
  describe(`${rule}: fixes`, () => {
    for (const one of cases) {
      it(one.name, () => testFixes(one, rule));
    }
  });
}

/** Each fix of each finding of the rule: it can be written, parses, takes the finding away and brings none. */
function testFixes(one: RuleCase, rule: string): void {
  const { findings, snapshot } = findingsIn(one.files);
  const ours = findings.filter((finding) => finding.rule === rule);
  for (const finding of ours) {
    for (const fix of finding.fixes) {
      const texts = afterFix(one.files, snapshot, finding, fix);
      const { findings: rest } = findingsIn(texts);
      const { added, gone } = changedBy(findings, rest, finding);
      const shown = `${fix.title}\n${texts.get(finding.path)}`;
      expect(added, shown).toEqual([]);
      expect(gone, shown).toBe(true);
    }
  }
  const first = ours.find((finding) => finding.fixes.length > 0);
  if (one.fixed === undefined) return;
  expect(first, 'a finding that has a fix').toBeDefined();
  expect(afterFix(one.files, snapshot, first!, first!.fixes[0]!).get(first!.path)).toBe(one.fixed);
}
