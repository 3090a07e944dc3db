/**
 * What the properties are held on: the demo, the innocent apps and the sources of the rules, each a project of its own; and the
 * whole check of a project, as an editor or the command line would run it.
 */
import { readdirSync } from 'node:fs';
import { join } from 'node:path';
import { rules } from '../../rules/index.js';
import { sumCoverage } from '../../server/engine/coverage.js';
import { defaultSettings } from '../../server/engine/settings.js';
import type { File, Span } from '../../server/ir/ir.js';
import { checkFile } from '../../server/project/check.js';
import { checkerOf, linking } from '../../server/project/checker.js';
import { Snapshot } from '../../server/project/snapshot.js';
import { Surroundings } from '../../server/project/surroundings.js';
import { Lines } from '../../server/report/lines.js';
import { appAt, appsIn } from '../apps/apps.js';
import { casesOf } from '../support/rule-cases.js';

const TESTS = new URL('../', import.meta.url).pathname;

/** Another seed is another run; the same one makes the same texts. */
export const SEED = Number(process.env['LINKWRIGHT_SEED'] ?? 20);

export interface Project {
  readonly name: string;
  readonly files: ReadonlyMap<string, string>;
}

export const demo: Project = appAt(join(TESTS, 'workspaces'), 'hive-scale');
export const apps: readonly Project[] = appsIn(join(TESTS, 'apps'));

/** The sources under `test/rules/`, one project a case. */
export function ruleSources(): readonly Project[] {
  const ids = readdirSync(join(TESTS, 'rules'), { withFileTypes: true }).filter((entry) => entry.isDirectory()).map((entry) => entry.name).sort();
  return ids.flatMap((id) => casesOf(id).map(({ name, files }) => ({ name: `${id}/${name}`, files }))).filter((project) => sources(project).length > 0);
}

/** A finding, comparable after its line has moved. */
export interface Said {
  readonly rule: string;
  readonly severity: string;
  readonly path: string;
  readonly within: string;
  readonly at: Span;
  readonly line: number;
  /** Its line without white space. */
  readonly text: string;
}

export interface Checked {
  readonly snapshot: Snapshot;
  /** In the order of paths and places. */
  readonly said: readonly Said[];
  /** Rules or parts of the analysis that threw. */
  readonly problems: readonly string[];
  /** Functions too large to follow. */
  readonly capped: number;
  /** Of this process, in milliseconds; other work on the machine does not count. */
  readonly time: number;
}

export interface Order {
  /** The order in which files are joined to a program. */
  link(files: readonly File[]): readonly File[];
  /** The order in which they are checked. */
  check(paths: readonly string[]): readonly string[];
}

export const asItComes: Order = { link: (files) => files, check: (paths) => paths };

export function snapshotOf(files: ReadonlyMap<string, string>, order: Order = asItComes): Snapshot {
  const ordered = { ...linking, link: (all: readonly File[]) => linking.link(order.link(all)) };
  return Snapshot.empty(ordered).apply([...files].map(([path, text]) => ({ is: 'disk', path, text } as const))).snapshot;
}

/** The whole check: from the texts of a project to everything that is said about it. */
export function check(files: ReadonlyMap<string, string>, order: Order = asItComes): Checked {
  const began = process.cpuUsage();
  const snapshot = snapshotOf(files, order);
  const checker = checkerOf(rules, new Surroundings());
  const checks = [...order.check(snapshot.paths('source')), ...snapshot.paths('profile')].map((path) => checkFile(path, snapshot, checker, defaultSettings));
  const { user, system } = process.cpuUsage(began);
  const said = checks.flatMap(({ path, text, findings }) => {
    const lines = new Lines(text);
    return findings.map(({ rule, severity, within, at }): Said => ({
      rule, severity, path, within, at, line: lines.position(at.start).line, text: lines.lineText(at.start).replace(/\s+/g, ''),
    }));
  });
  return {
    snapshot, time: (user + system) / 1000, capped: sumCoverage(checks.map(({ coverage }) => coverage)).capped,
    said: said.sort((a, b) => (a.path === b.path ? a.at.start - b.at.start || compare(a.rule, b.rule) : compare(a.path, b.path))),
    problems: checks.flatMap(({ problems }) => problems.map(({ rule, path, message, stack }) => `${path} ${rule}: ${stack ?? message}`)),
  };
}

function compare(a: string, b: string): number {
  return a < b ? -1 : a > b ? 1 : 0;
}

/** What makes a finding the same one wherever it stands: rule, function and text, as reports have it; and its severity. */
export function fingerprints(said: readonly Said[]): readonly string[] {
  return said.map(({ rule, severity, path, within, text }) => [rule, severity, path, within, text].join(' | ')).sort();
}

/** Checked once: the state before whatever a property does. */
const known = new Map<Project, Checked>();

export function before(project: Project): Checked {
  let checked = known.get(project);
  if (checked === undefined) known.set(project, checked = check(project.files));
  return checked;
}

export function sources(project: Project): readonly string[] {
  return [...project.files.keys()].filter((path) => /\.(?:kt|tsx?)$/.test(path));
}
