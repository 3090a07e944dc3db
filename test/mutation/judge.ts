/** Runs the checker on a mutant and holds what is new against what the mutant is owed. */
import ts from 'typescript';
import { sumCoverage } from '../../server/engine/coverage.js';
import type { Finding } from '../../server/engine/rule.js';
import { defaultSettings } from '../../server/engine/settings.js';
import { checkFile, type Checker } from '../../server/project/check.js';
import { fileKind } from '../../server/project/files.js';
import type { Snapshot } from '../../server/project/snapshot.js';
import type { Ground } from './ground.js';
import { changedBy, lineAt, type Mutant, type Place } from './mutant.js';

export type Outcome = 'found' | 'missed' | 'silent' | 'broken';

export interface Verdict {
  readonly mutant: Mutant;
  /** `silent`: an equivalent mutant of which nothing is said. `broken`: the text cannot be read, or a rule threw. */
  readonly outcome: Outcome;
  /** Findings of warning or error that the fault does not explain, and all of them for an equivalent mutant. */
  readonly extra: readonly string[];
  /** Everything new, as `path:line severity rule message`. */
  readonly news: readonly string[];
  /** Where it was planted, as `path:line`. */
  readonly at: string;
  readonly texts: ReadonlyMap<string, string>;
}

interface Said {
  readonly finding: Finding;
  readonly line: number;
  /** Equal for a finding that has only moved. */
  readonly key: string;
}

export class Judge {
  private readonly checker: Checker;
  private readonly before: readonly Said[];
  /** Findings of the text as it is, accepted ones too, without hints. */
  private readonly faults: readonly Finding[];

  constructor(private readonly ground: Ground) {
    this.checker = ground.checker();
    const { said, accepted } = this.said(ground.snapshot);
    this.before = said;
    this.faults = [...said.map(({ finding }) => finding), ...accepted].filter(({ severity }) => severity !== 'hint');
  }

  /**
   * Whether something is wrong, or accepted, in the text that would be changed, the same fault stands where it would be
   * looked for, or a link of the file is already lost: then nothing can be planted there.
   */
  isFaulty({ rule, places, edits, path }: Mutant): boolean {
    return this.faults.some((fault) => edits.some((edit) => holds(edit, fault)) || (fault.rule === rule && (
      places.some((place) => holds(place, fault)) || (rule === 'link-not-closed' && fault.path === path))));
  }

  of(mutant: Mutant): Verdict {
    const changed = changedBy(mutant.edits, (path) => this.ground.textOf(path));
    const { snapshot } = this.ground.snapshot.apply([...changed.texts].map(([path, text]) => ({ is: 'disk', path, text } as const)));
    const { said, problems } = this.said(snapshot);
    const broken = [...problems, ...unreadable(snapshot, changed.texts)];
    const news = withoutKnown(said, this.before);
    const owed = new Set([...changed.marks, ...mutant.places.flatMap((place) => changed.linesOf(place))]);
    const isFound = ({ finding, line }: Said): boolean =>
      finding.rule === mutant.rule && (finding.severity !== 'hint' || mutant.level === 'hint') && owed.has(`${finding.path}:${line}`);
    const isExplained = ({ finding, line }: Said): boolean => finding.rule === mutant.rule && owed.has(`${finding.path}:${line}`)
      || mutant.also.some(({ rule, places }) => rule === finding.rule && places.some((place) => changed.linesOf(place).includes(`${finding.path}:${line}`)));
    const loud = news.filter(({ finding }) => finding.severity !== 'hint');
    const isEquivalent = mutant.equivalent !== undefined;
    const [edit] = mutant.edits;
    return {
      mutant,
      outcome: broken.length > 0 ? 'broken' : isEquivalent ? 'silent' : news.some(isFound) ? 'found' : 'missed',
      extra: [...broken, ...loud.filter((one) => isEquivalent || !isExplained(one)).map(shown)],
      news: news.map(shown),
      at: `${mutant.path}:${lineAt(this.ground.textOf(mutant.path), edit!.at.start)}`,
      texts: changed.texts,
    };
  }

  private said(snapshot: Snapshot): { readonly said: readonly Said[]; readonly accepted: readonly Finding[]; readonly problems: readonly string[] } {
    const checks = snapshot.paths('source').map((path) => checkFile(path, snapshot, this.checker, defaultSettings));
    const said = checks.flatMap(({ findings, text }) => findings.map((finding): Said => {
      const line = lineAt(text, finding.at.start);
      const words = text.split('\n')[line - 1]!.replace(/\s+/g, '');
      return { finding, line, key: [finding.rule, finding.severity, finding.path, finding.within, words].join('|') };
    }));
    const capped = sumCoverage(checks.map(({ coverage }) => coverage)).capped;
    const problems = checks.flatMap(({ problems }) => problems.map(({ rule, path, message }) => `${path} ${rule} threw: ${message}`));
    const accepted = checks.flatMap((check) => check.accepted.map(({ finding }) => finding));
    return { said, accepted, problems: capped > 0 ? [...problems, `${capped} functions were too large to follow`] : problems };
  }
}

function holds({ path, at }: Place, { path: of, at: { start } }: Finding): boolean {
  return path === of && at.start <= start && start < Math.max(at.end, at.start + 1);
}

function shown({ finding, line }: Said): string {
  return `${finding.path}:${line} ${finding.severity} ${finding.rule} ${finding.message}`;
}

/** What was not said before; a finding whose line was itself changed counts as the same one in the same function. */
function withoutKnown(said: readonly Said[], before: readonly Said[]): readonly Said[] {
  const place = ({ finding }: Said): string => [finding.rule, finding.severity, finding.path, finding.within].join('|');
  const known = [...before];
  const isNew = (same: (other: Said) => boolean): boolean => {
    const at = known.findIndex(same);
    if (at >= 0) known.splice(at, 1);
    return at < 0;
  };
  return said.filter((one) => isNew((other) => other.key === one.key)).filter((one) => isNew((other) => place(other) === place(one)));
}

/** Ranges that the front end, or TypeScript's own parser, cannot read. */
function unreadable(snapshot: Snapshot, texts: ReadonlyMap<string, string>): readonly string[] {
  return [...texts].filter(([path]) => fileKind(path) === 'source').flatMap(([path, text]) => {
    const ranges = snapshot.fileOf(path)?.unreadable.map(({ start, end }) => `${path}: cannot be read: ${text.slice(start, end)}`) ?? [];
    return [...ranges, ...syntaxErrors(path, text)];
  });
}

function syntaxErrors(path: string, text: string): readonly string[] {
  if (!/\.tsx?$/.test(path)) return [];
  const { diagnostics } = ts.transpileModule(text, { fileName: path, reportDiagnostics: true, compilerOptions: { target: ts.ScriptTarget.ES2022, jsx: ts.JsxEmit.Preserve } });
  return (diagnostics ?? []).map(({ messageText }) => `${path}: ${ts.flattenDiagnosticMessageText(messageText, ' ')}`);
}
