/**
 * What every part of `effects/` works on: the linked program, its resolver, the project's own words from the device
 * profile, and one store for answers, so that each is computed once and recursion ends. It decides nothing itself.
 */
import type { AnyNode, Block, Call, Expr, File, Fn, Stmt } from '../ir/ir.js';
import type { Does } from '../catalogue/types.js';
import type { Program, Resolver } from '../resolve/api.js';
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

/** An answer and the files that it was read from. */
interface Answered { readonly answer: unknown; readonly files?: ReadonlySet<string> }

export const NO_WORDS: Vocabulary = { queue: new Set(), teardown: new Set(), wrappers: new Map() };

export class Analysis {
  readonly program: Program;
  private readonly answers = new Map<string, Map<unknown, Answered>>();
  /** Files read for the questions that are being answered, the innermost last. */
  private readonly reading: Set<string>[] = [];
  /** Functions that were too large to analyse; every answer about them is unknown. */
  readonly capped = new Set<Fn | Block>();

  constructor(readonly resolver: Resolver, readonly words: Vocabulary) {
    this.program = resolver.program;
  }

  /**
   * The answer to one question about one subject, computed at most once. `during` is what a question that comes back to
   * itself is told; it must be the neutral answer.
   */
  once<K, V>(question: string, subject: K, during: V, compute: () => V): V {
    let known = this.answers.get(question);
    if (!known) this.answers.set(question, known = new Map());
    const before = known.get(subject);
    if (before) {
      before.files?.forEach(path => this.reading.at(-1)?.add(path));
      return before.answer as V;
    }
    known.set(subject, { answer: during });
    const files = new Set<string>();
    this.reading.push(files);
    try {
      const answer = compute();
      known.set(subject, files.size > 0 ? { answer, files } : { answer });
      return answer;
    } finally {
      this.reading.pop();
      files.forEach(path => this.reading.at(-1)?.add(path));
    }
  }

  /** Runs something and tells which files its answers were read from. */
  tracking<T>(run: () => T): { readonly result: T; readonly files: ReadonlySet<string> } {
    const files = new Set<string>();
    this.reading.push(files);
    try {
      return { result: run(), files };
    } finally {
      this.reading.pop();
    }
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
    const file = this.program.fileOf(node);
    if (file) this.reading.at(-1)?.add(file.path);
    return file;
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
