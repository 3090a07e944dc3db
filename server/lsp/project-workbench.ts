/**
 * The workbench over the real project: brings the workspace's files in, tells the project of edits and of changes on disk,
 * and lets it check after each. It decides neither what is checked again nor what is published; `project/` does.
 */
import { acceptanceRules } from '../engine/accepted.js';
import { sumCoverage } from '../engine/coverage.js';
import { editsOf } from '../engine/edits.js';
import type { EditSources, FileEdits } from '../engine/edits.js';
import type { Finding, Fix } from '../engine/rule.js';
import { defaultSettings, parseSettings } from '../engine/settings.js';
import type { Settings as RuleSettings } from '../engine/settings.js';
import { fileKind, isSearched } from '../project/files.js';
import type { FileSystem } from '../project/files.js';
import { load, reload } from '../project/load.js';
import { folderOf } from '../project/paths.js';
import { Project } from '../project/project.js';
import type { Host } from '../project/project.js';
import type { Publication } from '../project/publish.js';
import type { Change, Snapshot } from '../project/snapshot.js';
import type { Surroundings } from '../project/surroundings.js';
import { countBySeverity } from '../report/report.js';
import type { Recognised, Totals } from './protocol.js';
import { uuidInProfile, uuidInSource } from './uuid-at.js';
import type { ProfileInForce, Settings, UuidPlace, Workbench } from './workbench.js';

/** What the root joins: the analysis behind the project, the disk, and time. */
export interface Parts {
  readonly host: Host;
  readonly files: FileSystem;
  /** Resolves after the time for which a user must have paused typing. */
  settle(): Promise<void>;
  /** The profile in force for a source, and what is assumed where nothing says otherwise. */
  readonly surroundings: Pick<Surroundings, 'of' | 'assumed'>;
  /** Where a fix finds the texts and models that it changes. */
  editSources(snapshot: Snapshot): EditSources;
}

export class ProjectWorkbench implements Workbench {
  private readonly project: Project;
  private readonly statusListeners: (() => void)[] = [];
  private tellProblem: (sentence: string) => void = () => {};
  private folders: readonly string[] = [];
  private settings: RuleSettings = defaultSettings;
  private onType = true;
  /** Reading the disk, one after the other, so that the latest look at a file is the one that counts. */
  private reading: Promise<void> = Promise.resolve();
  /** Before the workspace is read, a file's verdict would lack the helpers in its neighbours. */
  private isRead = false;
  private isConfigured = false;
  private edits = 0;

  /** Rules that look at code, as against what is said about profiles and acceptances. */
  private readonly ruleIds: ReadonlySet<string>;

  constructor(private readonly parts: Parts) {
    this.project = new Project(parts.host, this.settings);
    this.ruleIds = new Set(parts.host.checker.rules.map(({ id }) => id));
  }

  workspace(folders: readonly string[]): void {
    this.folders = folders;
    this.read(() => this.readWorkspace());
  }

  configure({ rules, onType }: Settings): readonly string[] {
    const known = new Set([...this.ruleIds, ...acceptanceRules.map(({ id }) => id)]);
    const { settings, problems } = parseSettings({ ...(rules !== undefined && rules !== null && { rules }) }, known);
    this.settings = settings;
    this.onType = onType;
    this.project.configure(settings);
    this.isConfigured = true;
    void this.check();
    return problems;
  }

  open(path: string, version: number, text: string): void {
    if (this.apply([{ is: 'edited', path, version, text }])) void this.check();
  }

  change(path: string, version: number, text: string): void {
    if (this.apply([{ is: 'edited', path, version, text }]) && this.onType) void this.checkSoon();
  }

  saved(path: string): void {
    if (this.concerns(path) && !this.onType) void this.check();
  }

  close(path: string): void {
    if (this.apply([{ is: 'closed', path }])) void this.check();
  }

  changedOnDisk(paths: readonly string[]): void {
    const ours = paths.filter((path) => this.concerns(path));
    if (ours.length > 0) this.read(async () => this.project.apply(await reload(this.parts.files, ours)));
  }

  async checkAll(): Promise<Totals> {
    this.read(() => this.readWorkspace());
    await this.reading;
    this.project.configure(this.settings);
    // An edit ends the run; what it left is due in the next one.
    while (!(await this.check()));
    const checks = this.project.results();
    const { error, warning, hint } = countBySeverity(checks);
    return { files: checks.length, errors: error, warnings: warning, hints: hint };
  }

  async current(path: string): Promise<void> {
    const isChecked = () => this.project.resultOf(path)?.version === this.project.snapshot.versionOf(path);
    if (isChecked() || !this.onType) return;
    // The rest of the workspace may take its time.
    await new Promise<void>((resolve) => {
      void this.check((checked) => checked === path && resolve()).then(() => resolve());
    });
  }

  published(path: string): Publication | undefined {
    return this.project.resultOf(path);
  }

  onPublish(listener: (publication: Publication) => void): void {
    this.project.onPublish(listener);
  }

  onStatus(listener: () => void): void {
    this.statusListeners.push(listener);
  }

  onProblem(listener: (sentence: string) => void): void {
    this.tellProblem = listener;
  }

  textOf(path: string): string | undefined {
    return this.project.snapshot.textOf(path);
  }

  editsOf(path: string, fix: Fix, answers: Readonly<Record<string, string>>): readonly FileEdits[] | undefined {
    const written = editsOf(fix, path, this.parts.editSources(this.project.snapshot), answers);
    return 'files' in written ? written.files : undefined;
  }

  acceptable(finding: Finding): boolean {
    return this.ruleIds.has(finding.rule);
  }

  uuidAt(path: string, offset: number): UuidPlace | undefined {
    const { snapshot } = this.project;
    if (fileKind(path) === 'profile') {
      const inForce = this.profileFor(path);
      return inForce?.profile.path === path && !inForce.stale ? uuidInProfile(inForce.profile, offset) : undefined;
    }
    const file = snapshot.fileOf(path);
    return file && uuidInSource(file, offset, snapshot.resolver.constants);
  }

  profileFor(path: string): ProfileInForce | undefined {
    const { profile, staleProfile } = this.parts.surroundings.of(path, this.project.snapshot);
    return profile && { profile, stale: staleProfile !== undefined };
  }

  assumedFor(path: string): readonly string[] {
    const base = this.folders.find((folder) => path.startsWith(`${folder}/`)) ?? folderOf(path);
    return this.parts.surroundings.assumed([path], this.project.snapshot, base);
  }

  recognised(): Recognised {
    const { links, operations, callbacks } = sumCoverage(this.project.results().map(({ coverage }) => coverage));
    return { links, operations, callbacks };
  }

  // ---- Behind -----------------------------------------------------------

  /** False for a document that does not concern the project. */
  private apply(changes: readonly Change[]): boolean {
    if (!changes.every(({ path }) => this.concerns(path))) return false;
    this.project.apply(changes);
    return true;
  }

  /** Checks once the user pauses: of many edits in a row only the last one is followed. */
  private async checkSoon(): Promise<void> {
    const edit = ++this.edits;
    await this.parts.settle();
    if (edit === this.edits) await this.check();
  }

  /** Checks what is due. False when an edit came in between; then the edit's own call goes on with the rest. */
  private async check(onChecked: (path: string) => void = () => {}): Promise<boolean> {
    if (!this.isRead || !this.isConfigured) return false;
    const isDone = await this.project.check(undefined, ({ path, problems }) => {
      for (const { rule, message, stack } of problems) this.tellProblem(`${rule} failed on ${path}: ${stack ?? message}`);
      onChecked(path);
    });
    if (isDone) for (const listener of this.statusListeners) listener();
    return isDone;
  }

  private read(look: () => Promise<void>): void {
    this.reading = this.reading.then(look).then(() => void this.check());
  }

  private async readWorkspace(): Promise<void> {
    const { changes } = await load(this.parts.files, this.folders);
    const { snapshot } = this.project;
    const found = new Set(changes.map(({ path }) => path));
    const gone = (['source', 'profile', 'build'] as const).flatMap((kind) => snapshot.paths(kind)).filter((path) => snapshot.isOnDisk(path) && !found.has(path));
    this.project.apply([...changes, ...gone.map((path): Change => ({ is: 'disk', path }))]);
    this.isRead = true;
  }

  /** Not a dependency or something built below one of the folders; a document from elsewhere is looked at by itself. */
  private concerns(path: string): boolean {
    if (fileKind(path) === undefined) return false;
    const folder = this.folders.find((root) => path.startsWith(`${root}/`));
    return folder === undefined || path.slice(folder.length + 1).split('/').slice(0, -1).every(isSearched);
  }
}
