/**
 * An app as operators see it: its program model, and a few questions about it. Which calls are the platform's, and what
 * they do, is asked of the resolver and the catalogue; no verdict of the checker is.
 */
import { rules } from '../../rules/index.js';
import type { Does, PlatformMember } from '../../server/catalogue/types.js';
import type { AnyNode, Block, Call, Expr, File, Fn, Lambda, Span, Stmt } from '../../server/ir/ir.js';
import { findAll, walk } from '../../server/ir/walk.js';
import { checkerOf, linking } from '../../server/project/checker.js';
import { Snapshot } from '../../server/project/snapshot.js';
import { Surroundings } from '../../server/project/surroundings.js';
import type { Program, Resolver } from '../../server/resolve/api.js';
import type { App } from '../apps/apps.js';
import type { Edit, Place } from './mutant.js';

export interface PlatformCall {
  readonly call: Call;
  readonly member: PlatformMember;
}

export class Ground {
  readonly snapshot: Snapshot;
  readonly resolver: Resolver;
  readonly program: Program;
  readonly files: readonly File[];
  readonly language: App['language'];
  /** Every call of a platform member, in the order of files and text. */
  readonly platformCalls: readonly PlatformCall[];

  private readonly members = new Map<Call, PlatformMember>();

  constructor(readonly app: App) {
    this.language = app.language;
    this.snapshot = Snapshot.empty(linking).apply([...app.files].map(([path, text]) => ({ is: 'disk', path, text } as const))).snapshot;
    this.resolver = this.snapshot.resolver;
    this.program = this.snapshot.program;
    this.files = this.snapshot.paths('source').map((path) => this.snapshot.fileOf(path)!);
    for (const file of this.files) this.program.open(file);
    this.platformCalls = this.files.flatMap((file) => findAll(file, 'Call')).flatMap((call) => {
      const member = this.resolver.calleeOf(call).members[0];
      if (member !== undefined) this.members.set(call, member);
      return member === undefined ? [] : [{ call, member }];
    });
  }

  /** The profile's words that bear on the queue: `Class.function`. */
  get declaredQueue(): readonly string[] {
    const surroundings = new Surroundings();
    return this.files.slice(0, 1).flatMap(({ path }) => surroundings.of(path, this.snapshot).profile?.queue?.functions.map(({ name }) => name) ?? []);
  }

  /** The oldest Android release that the app runs on, where it says so. */
  get minimum(): number {
    return new Surroundings().of(this.files[0]!.path, this.snapshot).targets.android.minimum;
  }

  checker() {
    return checkerOf(rules, new Surroundings());
  }

  all<K extends AnyNode['kind']>(kind: K): Extract<AnyNode, { kind: K }>[] {
    return this.files.flatMap((file) => findAll(file, kind));
  }

  /** Calls whose member does one of these. */
  callsThat(...does: readonly Does[]): readonly PlatformCall[] {
    return this.platformCalls.filter(({ member }) => does.some((one) => member.does?.includes(one)));
  }

  memberOf(call: Call): PlatformMember | undefined {
    return this.members.get(call);
  }

  /** Starts something that occupies the link until it has completed. */
  occupies(call: Call): boolean {
    const member = this.members.get(call);
    return member?.does?.includes('starts-operation') === true && member.slot !== 'none';
  }

  // ---- Text ----

  pathOf(node: AnyNode): string {
    return this.program.fileOf(node)!.path;
  }

  textOf(path: string): string {
    return this.snapshot.textOf(path)!;
  }

  slice(node: AnyNode): string {
    return this.textOf(this.pathOf(node)).slice(node.span.start, node.span.end);
  }

  place(node: AnyNode, at: Span = node.span): Place {
    return { path: this.pathOf(node), at };
  }

  /** Where rules point for a call. */
  nameOf(call: Call): Place {
    return this.place(call, call.callee.kind === 'Member' ? call.callee.nameSpan : call.callee.span);
  }

  replace(node: AnyNode, text: string): Edit {
    return { path: this.pathOf(node), at: node.span, text };
  }

  /** Takes a statement away, its lines whole when it has them to itself. */
  remove(node: AnyNode): Edit {
    const path = this.pathOf(node);
    const text = this.textOf(path);
    if (!this.ownsLines(node)) return { path, at: node.span, text: '' };
    const end = text.indexOf('\n', node.span.end);
    return { path, at: { start: text.lastIndexOf('\n', node.span.start - 1) + 1, end: end < 0 ? text.length : end + 1 }, text: '' };
  }

  /** Puts lines after a statement that has its lines to itself; the first has the statement's own indentation. */
  after(node: AnyNode, text: string): Edit {
    const path = this.pathOf(node);
    const end = this.textOf(path).indexOf('\n', node.span.end);
    return { path, at: { start: end, end }, text: `\n${this.indentOf(node)}${text}` };
  }

  indentOf(node: AnyNode): string {
    const text = this.textOf(this.pathOf(node));
    return /^[ \t]*/.exec(text.slice(text.lastIndexOf('\n', node.span.start - 1) + 1))![0];
  }

  /** Nothing else stands on its first and its last line. */
  ownsLines(node: AnyNode): boolean {
    const text = this.textOf(this.pathOf(node));
    const before = text.slice(text.lastIndexOf('\n', node.span.start - 1) + 1, node.span.start);
    const end = text.indexOf('\n', node.span.end);
    return before.trim() === '' && /^;?\s*(\/\/.*)?$/.test(text.slice(node.span.end, end < 0 ? undefined : end));
  }

  /** What stands between the braces of a block, or all of it where it has none. */
  inside(block: Block): string {
    const text = this.slice(block).trim();
    return text.startsWith('{') ? text.slice(1, -1).trim() : text;
  }

  // ---- Structure ----

  parent(node: AnyNode): AnyNode | undefined {
    return this.program.parentOf(node);
  }

  /** The innermost statement of a block around an expression, inside the same function or lambda. */
  statementOf(node: AnyNode): Stmt | undefined {
    for (let at: AnyNode | undefined = node, above = this.parent(node); at !== undefined; at = above, above = above && this.parent(above)) {
      if (at.kind === 'Fn') return undefined;
      if (above?.kind === 'Block') return at as Stmt;
    }
    return undefined;
  }

  /** The functions, lambdas included, around a node, innermost first. */
  functionsAround(node: AnyNode): readonly Fn[] {
    const found: Fn[] = [];
    for (let fn = this.program.enclosingFn(node); fn !== undefined; fn = this.program.enclosingFn(fn)) found.push(fn);
    return found;
  }

  /** The named function around a node. */
  functionOf(node: AnyNode): Fn | undefined {
    return this.functionsAround(node).find((fn) => fn.name !== undefined);
  }

  lambdaArgument(call: Call): Lambda | undefined {
    return call.args.map(({ value }) => value).find((value): value is Lambda => value.kind === 'Lambda');
  }

  /** Platform calls in a node and in whatever project functions it calls, as far as they can be told. */
  reached(node: AnyNode): readonly Call[] {
    const found = new Set<Call>();
    const seen = new Set<AnyNode>([node]);
    const follow = (root: AnyNode): void => walk(root, (below) => {
      if (below.kind !== 'Call') return;
      if (this.members.has(below)) found.add(below);
      for (const fn of this.resolver.calleeOf(below).fns) {
        if (seen.has(fn)) continue;
        seen.add(fn);
        follow(fn);
      }
    });
    follow(node);
    return [...found];
  }

  /** Whether running a node may make such a call. */
  reaches(node: AnyNode, does: Does): boolean {
    return this.reached(node).some((call) => this.members.get(call)!.does?.includes(does) === true);
  }

  /** Call of a function of the project, not of the platform. */
  isOwn(call: Call): boolean {
    return !this.members.has(call) && this.resolver.calleeOf(call).fns.length > 0;
  }

  /** The calls through which a node is reached, from the function around it up to three calls away. */
  waysTo(node: AnyNode, steps = 3): readonly Call[] {
    const fn = this.functionOf(node);
    const calls = fn === undefined || steps === 0 ? [] : this.resolver.callersOf(fn);
    return [...calls, ...calls.flatMap((call) => this.waysTo(call, steps - 1))];
  }

  /** A name that may be read in an expression. */
  reads(expr: AnyNode, name: string): boolean {
    let found = false;
    walk(expr, (node) => {
      if (node.kind === 'Name' && node.name === name) found = true;
    });
    return found;
  }
}

/** An expression of one name: `x`, or `this.x`. */
export function simpleName(expr: Expr): string | undefined {
  if (expr.kind === 'Name') return expr.name;
  return expr.kind === 'Member' && expr.object.kind === 'This' ? expr.name : undefined;
}
