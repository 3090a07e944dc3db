/** Hands out the facts of one file: each is computed when a rule first asks, in `effects/`; nothing is computed here. */
import type { AnyNode, File, Span } from '../ir/ir.js';
import { Analysis, type Vocabulary } from '../effects/analysis.js';
import { tells } from '../effects/outcomes.js';
import { collisionsIn } from '../effects/overlaps.js';
import { coverageOf, type Covered } from '../effects/covered.js';
import { concerns } from '../effects/relevance.js';
import { registrationsIn, type Against } from '../effects/limits.js';
import { livesIn } from '../effects/links.js';
import { startsIn } from '../effects/starts.js';
import { statusOf } from '../effects/status.js';
import { isTestSource } from '../effects/test-sources.js';
import { saysTolerated } from '../effects/tolerance.js';
import { unansweredIn } from '../effects/unanswered.js';
import { endOf, waysOnAt } from '../effects/ways-on.js';
import type { Profile } from '../profile/types.js';
import type { Targets } from '../profile/targets.js';
import type { Resolver } from '../resolve/api.js';
import type { Code, Facts } from './facts.js';

export interface Setting {
  readonly targets: Targets;
  readonly profile?: Profile;
}

export interface FileFacts {
  readonly facts: Facts;
  /** Whether the file has anything to do with a link; if not, there are no facts about it. */
  readonly concerned: boolean;
  readonly covered: Covered;
}

/** One analysis serves all files of a snapshot that are under one profile. */
export function analysisOf(resolver: Resolver, profile: Profile | undefined): Analysis {
  const words: Vocabulary = {
    queue: new Set(profile?.queue?.functions.map(f => f.name)),
    teardown: new Set(profile?.teardown?.functions.map(f => f.name)),
    wrappers: new Map(profile?.wrappers.map(w => [w.name, w.does.map(d => d.value)])),
  };
  return new Analysis(resolver, words);
}

/** @param against what notification registrations are held against; undefined where no limit holds for the code */
export function factsOf(a: Analysis, file: File, text: string, setting: Setting, against: Against | undefined): FileFacts {
  // Asked beforehand: a file that has nothing to do with a link is not read with all that were looked at to find that out.
  const concerned = concerns(a, file);
  const facts = new LazyFacts(a, file, text, setting, against, concerned);
  return { facts, concerned, get covered() { return coverageOf(a, file); } };
}

export { concerns };

class LazyFacts implements Facts {
  readonly targets: Targets;
  readonly profile?: Profile;
  readonly code: Code;

  constructor(private readonly a: Analysis, readonly file: File, readonly text: string, setting: Setting, private readonly against: Against | undefined, private readonly concerned: boolean) {
    this.targets = setting.targets;
    if (setting.profile) this.profile = setting.profile;
    this.code = codeOf(a, file, text);
  }

  get isTest() { return isTestSource(this.file.path); }
  get starts() { return this.ask('starts', () => startsIn(this.a, this.file)); }
  get statuses() { return this.ask('statuses', () => functionsOf(this.a, this.file).flatMap(fn => statusOf(this.a, fn) ?? [])); }
  get unanswered() { return this.ask('unanswered', () => unansweredIn(this.a, this.file)); }
  get collisions() { return this.ask('collisions', () => collisionsIn(this.a, this.file)); }
  get links() { return this.ask('links', () => livesIn(this.a, this.file)); }
  get registrations() { return this.ask('registrations', () => (this.against === undefined ? [] : registrationsIn(this.a, this.file, this.against))); }

  /** Nothing is asked about a file that has nothing to do with a link. */
  private ask<T>(question: string, compute: () => readonly T[]): readonly T[] {
    return this.concerned ? this.a.once<File, readonly T[]>(`facts-${question}`, this.file, [], compute) : [];
  }
}

function functionsOf(a: Analysis, file: File) {
  const found: (AnyNode & { kind: 'Fn' })[] = [];
  a.eachBelow(file, node => {
    if (node.kind === 'Fn') found.push(node);
    return undefined;
  });
  return found;
}

function codeOf(a: Analysis, file: File, text: string): Code {
  const { program, resolver } = a;
  return {
    parentOf: node => program.parentOf(node),
    enclosingFn: node => program.enclosingFn(node),
    home: node => a.home(node),
    pathOf: node => a.fileOf(node)?.path ?? file.path,
    typeOf: expr => resolver.typeOf(expr),
    declOf: expr => (expr.kind === 'Name' || expr.kind === 'Member' || expr.kind === 'FnRef' ? resolver.declOf(expr) : undefined),
    resultOf: fn => resolver.resultOf(fn),
    targetsOf: call => resolver.calleeOf(call).fns,
    commentAt: node => commentAt(file, text, node.span),
    isTolerated: node => {
      const comment = commentAt(file, text, node.span);
      return comment !== undefined && saysTolerated(comment);
    },
    onlyTells: node => tells(a, node),
    textOf: node => text.slice(node.span.start, node.span.end),
    waysOn: (node, link) => waysOnAt(a, node, link),
    get linkEnd() { return endOf(a); },
    wantedResult: value => resolver.wantedFunction(value)?.result,
  };
}

/** The comments on the lines just above the node's line, as one text; else the one behind it on its line. */
function commentAt(file: File, text: string, span: Span): string | undefined {
  const lineStart = (offset: number): number => text.lastIndexOf('\n', offset - 1) + 1;
  let top = lineStart(span.start);
  const bottom = top;
  for (const comment of [...file.comments].reverse()) {
    if (comment.start >= top) continue;
    const isDirectlyAbove = text.slice(comment.end, top).trim() === '' && !text.slice(comment.end, top).includes('\n\n');
    if (!isDirectlyAbove || text.slice(lineStart(comment.start), comment.start).trim() !== '') break;
    top = lineStart(comment.start);
  }
  if (top < bottom) return text.slice(top, bottom);
  const lineEnd = text.indexOf('\n', span.end);
  const behind = file.comments.find(comment => comment.start >= span.end && (lineEnd < 0 || comment.start < lineEnd));
  return behind && text.slice(behind.start, behind.end);
}
