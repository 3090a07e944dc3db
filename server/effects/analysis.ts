/**
 * What every part of `effects/` works on: the linked program, its resolver, the project's own words from the device
 * profile, and one store for answers, so that each is computed once and recursion ends. It decides nothing itself.
 */
import type { AnyNode, Block, Call, Expr, File, Fn, Stmt } from '../ir/ir.js';
import type { Does } from '../catalogue/types.js';
import type { Program, Resolver } from '../resolve/api.js';
import { Answers, Kept, type FilesRead, type Reading } from '../resolve/reading.js';
import { buildGraph } from '../flow/build.js';
import type { Graph, Step } from '../flow/graph.js';
import { inlineOf, runOf, type Run } from './runs.js';
import { walk } from '../ir/walk.js';

/** The words of the device profile that change what code means. Names are `Class.function` or a bare `function`. */
export interface Vocabulary {
  /** Functions through which operations must go. */
  readonly queue: ReadonlySet<string>;
  /** Functions that end the link. */
  readonly teardown: ReadonlySet<string>;
  /** The team's own wrappers, and what a call of each does. */
  readonly wrappers: ReadonlyMap<string, readonly Does[]>;
}

export const NO_WORDS: Vocabulary = { queue: new Set(), teardown: new Set(), wrappers: new Map() };

export class Analysis {
  private readonly answers = new Map<string, Answers<unknown, Kept<unknown>>>();
  private readonly reading: Reading;
  /** Functions that were too large to analyse; every answer about them is unknown. */
  readonly capped = new Set<Fn | Block>();

  constructor(readonly resolver: Resolver, readonly words: Vocabulary) {
    this.reading = resolver.program.reading;
  }

  /** Another one after an edit; answers that the edit does not concern are kept. */
  get program(): Program {
    return this.resolver.program;
  }

  /**
   * The answer to one question about one subject, computed at most once. `during` is what a question that comes back to
   * itself is told; it must be the neutral answer.
   */
  once<K, V>(question: string, subject: K, during: V, compute: () => V): V {
    const answers = this.answersTo(question);
    const known = answers.get(subject);
    if (known !== undefined) {
      this.reading.uses(known);
      return known.value as V;
    }
    const answer = new Kept<V>(during);
    answers.set(subject, answer);
    this.reading.begins();
    try {
      answer.value = compute();
    } finally {
      this.reading.ends(answer);
    }
    return answer.value;
  }

  private answersTo(question: string): Answers<unknown, Kept<unknown>> {
    let answers = this.answers.get(question);
    if (answers === undefined) {
      answers = new Answers(this.reading);
      this.answers.set(question, answers);
    }
    return answers;
  }

  /** Runs something and tells which files its answers were read from; in a large program there may be others among them. */
  tracking<T>(run: () => T): { readonly result: T; readonly files: FilesRead } {
    const basis = new Kept(undefined);
    this.reading.begins();
    let result: T;
    try {
      result = run();
    } finally {
      this.reading.ends(basis);
    }
    return { result, files: this.reading.filesOf(basis) };
  }

  /** The graph of a function that is not built into another's, or of a module's top level. */
  graph(of: Fn | Block): Graph | undefined {
    return this.once<Fn | Block, Graph | undefined>('graph', of, undefined, () => {
      const file = this.fileOf(of);
      if (!file) return undefined;
      const graph = buildGraph(of, file.language, call => inlineOf(this, call));
      if (!graph) this.capped.add(of);
      return graph;
    });
  }

  /** The function or top level in whose graph a node stands: inlined lambdas belong to their caller's. */
  home(node: AnyNode): Fn | Block | undefined {
    let fn = this.program.enclosingFn(node);
    while (fn && this.isInlined(fn)) fn = this.program.enclosingFn(fn);
    return fn ?? this.fileOf(node)?.body;
  }

  isInlined(fn: Fn): boolean {
    return this.once('inlined', fn, false, () => {
      const lambda = this.program.parentOf(fn);
      const call = lambda && this.program.parentOf(lambda);
      return lambda?.kind === 'Lambda' && call?.kind === 'Call' && inlineOf(this, call).some(it => it.lambda === lambda);
    });
  }

  /** The graph in which a node is evaluated, and its steps there. */
  stepsOf(node: Stmt | Expr): { readonly graph: Graph; readonly steps: readonly Step[] } | undefined {
    const home = this.home(node);
    const graph = home && this.graph(home);
    return graph && { graph, steps: graph.stepsOf(node) };
  }

  fileOf(node: AnyNode): File | undefined {
    return this.program.fileOf(node);
  }

  /** The name by which the profile would call a function. */
  nameIn(names: ReadonlySet<string> | ReadonlyMap<string, unknown>, fn: Fn): string | undefined {
    if (fn.name === undefined) return undefined;
    if (names.has(fn.name)) return fn.name;
    for (let owner = this.program.ownerOf(fn); owner; owner = this.program.ownerOf(owner)) {
      if (owner.name !== undefined && names.has(`${owner.name}.${fn.name}`)) return `${owner.name}.${fn.name}`;
    }
    return undefined;
  }

  /** Every node below one, parents first; a visitor that answers `'skip'` is not shown what lies below. */
  eachBelow(root: AnyNode, visit: (node: AnyNode) => 'skip' | undefined): void {
    walk(root, visit);
  }

  runOf(call: Call, argument: Expr): Run | undefined {
    return runOf(this, call, argument);
  }

  calleeName(call: Call): string | undefined {
    return call.callee.kind === 'Member' || call.callee.kind === 'Name' ? call.callee.name : undefined;
  }
}
