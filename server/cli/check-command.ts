/**
 * `linkwright check`: reads what was named, checks it, prints what was found, and says by a number how it went. All that
 * belongs to the machine (disk, output, clock) is given in by the root.
 */
import { acceptanceRules } from '../engine/accepted.js';
import { editsOf } from '../engine/edits.js';
import { atLeast, defaultSettings } from '../engine/settings.js';
import type { Fix } from '../engine/rule.js';
import { checkerOf, editSources, linking } from '../project/checker.js';
import { load, reload, type Loaded } from '../project/load.js';
import { fileKind, type FileSystem } from '../project/files.js';
import { commonFolder, folderOf, isBelow, relativePath } from '../project/paths.js';
import { Project } from '../project/project.js';
import type { Change } from '../project/snapshot.js';
import { profileRule, Surroundings } from '../project/surroundings.js';
import { coverageOf, coverageText } from '../report/coverage.js';
import type { CheckReport, RuleText } from '../report/report.js';
import { sarifReport } from '../report/sarif.js';
import { textReport } from '../report/text.js';
import type { Rule } from '../engine/rule.js';
import type { CheckArguments } from './arguments.js';
import { Changes, type Watcher } from './changes.js';
import { inputsOf, wantedOf, type Inputs } from './inputs.js';
import { Progress, type ProgressTerminal } from './progress.js';

export interface Machine extends ProgressTerminal, Watcher {
  readonly fs: FileSystem;
  /** Absolute, normal path of the working directory; printed paths are relative to it. */
  readonly cwd: string;
  absolute(path: string): string;
  out(text: string): void;
  pause(): Promise<void>;
}

export interface Product {
  readonly version: string;
  readonly rules: readonly Rule[];
  /** The rule's page in Markdown. */
  pageOf(ruleId: string): string | undefined;
}

export type Status = 0 | 1 | 2;

export async function checkCommand(args: CheckArguments, machine: Machine, product: Product): Promise<Status> {
  const shown = (path: string): string => relativePath(machine.cwd, path);
  const inputs = await inputsOf(machine.fs, args.paths.map(machine.absolute), shown);
  if ('refused' in inputs) return refuse(machine, inputs.refused);
  const run = new Run(args, inputs, machine, product);
  await run.load();
  if (!run.hasSomethingToCheck()) return refuse(machine, `There is no Kotlin or TypeScript source in ${args.paths.join(', ')}.`);
  return args.watch ? run.watch() : run.checkAndPrint();
}

export function refuse(machine: Pick<Machine, 'err'>, sentence: string): Status {
  machine.err(`linkwright: ${sentence}\n`);
  return 2;
}

class Run {
  private readonly surroundings = new Surroundings();
  private readonly project: Project;
  private loaded: Loaded = { found: { sources: [], profiles: [], builds: [], folders: [], notes: [] }, changes: [], notes: [] };
  private isWanted: (path: string) => boolean = () => false;

  constructor(private readonly args: CheckArguments, private readonly inputs: Inputs, private readonly machine: Machine, private readonly product: Product) {
    this.project = new Project({
      linking,
      checker: checkerOf(product.rules, this.surroundings),
      isWanted: (path) => this.isWanted(path),
      pause: machine.pause,
    }, { ...defaultSettings, failOn: args.failOn });
  }

  /** Reads everything, and takes out what is no longer there. */
  async load(): Promise<void> {
    this.loaded = await load(this.machine.fs, this.inputs.roots);
    this.isWanted = wantedOf(this.inputs, this.loaded.found);
    const present = new Set(this.loaded.changes.map((change) => change.path));
    const { snapshot } = this.project;
    const gone = (['source', 'profile', 'build'] as const).flatMap((kind) => snapshot.paths(kind)).filter((path) => !present.has(path));
    this.project.apply([...this.loaded.changes, ...gone.map((path): Change => ({ is: 'disk', path }))]);
  }

  hasSomethingToCheck(): boolean {
    return [...this.loaded.found.sources, ...this.loaded.found.profiles].some((path) => this.inputs.isNamed(path));
  }

  async checkAndPrint(): Promise<Status> {
    const progress = new Progress(this.machine);
    const all = [...this.loaded.found.sources, ...this.loaded.found.profiles].filter(this.isWanted).length;
    const isWhole = await this.project.check(this.machine.ended, (_check, done) => progress.update(done, all));
    progress.end();
    if (!isWhole) return 2;
    const report = this.report();
    this.machine.out(this.args.format === 'sarif' ? this.sarif(report) : this.text(report));
    return this.status(report);
  }

  /** Checks again after every change, until the user ends it; the status is that of the last check. */
  async watch(): Promise<Status> {
    const changes = new Changes(this.machine);
    for (;;) {
      changes.listenIn(this.loaded.found.folders);
      const status = await this.checkAndPrint();
      if (!this.machine.ended.aborted) this.machine.err(`Watching ${this.args.paths.join(', ')}; end with Ctrl+C.\n`);
      const paths = await changes.next();
      if (paths.size === 0) return status;
      await this.takeIn(paths);
    }
  }

  /** A path that is no file of ours may be a folder that came or went, with anything in it. */
  private async takeIn(paths: ReadonlySet<string>): Promise<void> {
    const known = [...paths].every((path) => fileKind(path) !== undefined && this.project.snapshot.textOf(path) !== undefined);
    if (known) this.project.apply(await reload(this.machine.fs, paths));
    else await this.load();
  }

  private status(report: CheckReport): Status {
    if (report.checks.some((check) => check.findings.some((finding) => atLeast(finding.severity, this.args.failOn)))) return 1;
    return report.checks.some((check) => check.problems.length > 0) ? 2 : 0;
  }

  private report(): CheckReport {
    const { snapshot } = this.project;
    const checks = this.project.results().filter((check) => this.isWanted(check.path));
    const sources = checks.map((check) => check.path).filter((path) => fileKind(path) === 'source');
    const base = this.args.format === 'sarif' ? sarifBase(this.machine.cwd, checks.map((check) => check.path)) : this.machine.cwd;
    return {
      checks, base,
      textOf: (path) => snapshot.textOf(path),
      notes: this.loaded.notes.filter((note) => this.inputs.isNamed(note.path)),
      assumed: this.surroundings.assumed(sources, snapshot, base),
    };
  }

  private text(report: CheckReport): string {
    return textReport(report) + (this.args.coverage ? `\n${coverageText(report)}` : '');
  }

  private sarif(report: CheckReport): string {
    const { version, rules, pageOf } = this.product;
    const texts = [...rules, ...acceptanceRules, profileRule].map((rule): RuleText => {
      const page = pageOf(rule.id);
      return { ...rule, ...(page !== undefined && { page }) };
    });
    return sarifReport(report, {
      version, rules: texts,
      editsOf: (path, fix) => this.edits(path, fix),
      ...(this.args.coverage && { coverage: coverageOf(report) }),
    });
  }

  /** A fix that asks for a name is left to the editor. */
  private edits(path: string, fix: Fix) {
    if (fix.asks !== undefined && fix.asks.length > 0) return undefined;
    const outcome = editsOf(fix, path, editSources(this.project.snapshot));
    return 'refused' in outcome ? undefined : outcome.files;
  }
}

/** URIs are relative to the working directory, or where files lie outside of it, to the deepest folder around them. */
function sarifBase(cwd: string, paths: readonly string[]): string {
  if (paths.every((path) => isBelow(path, cwd))) return cwd;
  return commonFolder(paths.map(folderOf)) ?? cwd;
}
