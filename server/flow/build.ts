/**
 * Builds the control-flow graph of a function, a lambda or a module's top level. Lambdas that the called function runs
 * before it returns are built in place, so that `return` out of `let { }` and checks inside `with(gatt) { }` are what
 * they are in the language; all other lambdas have a graph of their own.
 */
import type { Arm, Block, Branch, Call, Expr, Fn, Jump, Language, Loop, Return, Stmt, Try } from '../ir/ir.js';
import type { Edge, Graph, Guard, Inline, Step } from './graph.js';

/** A way that has left a step and not yet arrived anywhere. */
interface Open { readonly from: Step; readonly when?: Guard }

type Frame =
  | { readonly is: 'lambda'; readonly labels: readonly string[]; readonly outs: Open[] }
  | { readonly is: 'loop'; readonly label: string | undefined; readonly breaks: Open[]; readonly continues: Open[] }
  | { readonly is: 'breakable'; readonly label: string | undefined; readonly plain: boolean; readonly breaks: Open[] }
  | { readonly is: 'catching'; readonly raised: Open[] }
  | { readonly is: 'finally'; readonly last: Block; readonly raised: Open[] };

/** More steps than this and the function is not analysed: the answer to every question about it is unknown. */
export const STEP_CAP = 20_000;

class TooLarge extends Error {}

/** The graph, or undefined when the function is larger than `STEP_CAP` steps. */
export function buildGraph(of: Fn | Block, language: Language, inline: Inline): Graph | undefined {
  try {
    return new Builder(of, language, inline).graph();
  } catch (error) {
    if (error instanceof TooLarge) return undefined;
    throw error;
  }
}

class Builder {
  private readonly steps: Step[] = [];
  private readonly byNode = new Map<Stmt | Expr, Step[]>();
  private readonly inlined = new Set<Fn>();
  private frames: Frame[] = [];
  private readonly returned: Open[] = [];
  private readonly thrown: Open[] = [];

  constructor(private readonly of: Fn | Block, private readonly language: Language, private readonly inline: Inline) {}

  graph(): Graph {
    const entry = this.bare();
    const body = this.of.kind === 'Fn' ? this.of.body : this.of;
    let at: Open[] = [{ from: entry }];
    if (this.of.kind === 'Fn') at = this.defaults(this.of, at);
    const end = body ? this.stmt(body, at) : at;
    const exit = this.bare();
    this.join([...end, ...this.returned], exit);
    const thrown = this.bare();
    this.join(this.thrown, thrown);
    const none: readonly Step[] = [];
    return { of: this.of, entry, exit, thrown, steps: this.steps, inlined: this.inlined, stepsOf: node => this.byNode.get(node) ?? none };
  }

  // ---- Statements ---------------------------------------------------------

  private stmt(stmt: Stmt, at: Open[]): Open[] {
    if (at.length === 0) return at;
    switch (stmt.kind) {
      case 'Block': return this.block(stmt, at);
      case 'Let': {
        const value = stmt.value && !stmt.delegated ? this.expr(stmt.value, at) : at;
        return this.step(stmt, this.patternDefaults(stmt.bindings.map(b => b.defaultValue), value));
      }
      case 'Assign': return this.expr(stmt, at);
      case 'ExprStmt': return this.expr(stmt.expr, at);
      case 'Yield': return this.expr(stmt.value, at);
      case 'Branch': return this.branch(stmt, at, false);
      case 'Loop': return this.loop(stmt, at);
      case 'Try': return this.tryStmt(stmt, at);
      case 'Return': return this.leave(stmt, at);
      case 'Throw': {
        this.raise(this.step(stmt, this.expr(stmt.value, at)));
        return [];
      }
      case 'Jump': return this.jump(stmt, at);
      case 'LocalDecl': return at;
    }
  }

  private block(block: Block, at: Open[]): Open[] {
    if (block.label === undefined) return block.stmts.reduce((open, stmt) => this.stmt(stmt, open), at);
    const frame: Frame = { is: 'breakable', label: block.label, plain: false, breaks: [] };
    const out = this.within(frame, () => block.stmts.reduce((open, stmt) => this.stmt(stmt, open), at));
    return [...out, ...frame.breaks];
  }

  private branch(branch: Branch, at: Open[], exhaustive: boolean): Open[] {
    const isSwitch = this.language === 'typescript' && branch.subject !== undefined;
    const frame: Frame = { is: 'breakable', label: undefined, plain: true, breaks: [] };
    const build = (): Open[] => {
      let rest = branch.subject ? this.expr(branch.subject, at) : at;
      const outs: Open[] = [];
      let falling: Open[] = [];
      const elseAt = branch.arms.findIndex(arm => arm.tests.length === 0);
      // TypeScript's `default` may stand anywhere, but is taken last.
      const order = [...branch.arms.keys()].filter(i => i !== elseAt);
      if (elseAt >= 0) order.push(elseAt);
      const entries = new Map<number, Open[]>();
      for (const i of order) {
        const arm = branch.arms[i]!;
        const [yes, no] = this.arm(branch, arm, rest);
        entries.set(i, yes);
        rest = no;
      }
      for (const [i, arm] of branch.arms.entries()) {
        const out = this.stmt(arm.body, [...entries.get(i)!, ...falling]);
        falling = arm.falls ? out : [];
        if (!arm.falls) outs.push(...out);
      }
      return [...outs, ...falling, ...(exhaustive && branch.subject ? [] : rest)];
    };
    if (!isSwitch) return build();
    const outs = this.within(frame, build);
    return [...outs, ...frame.breaks];
  }

  private arm(branch: Branch, arm: Arm, at: Open[]): [yes: Open[], no: Open[]] {
    if (arm.tests.length === 0) return [at, []];
    const yes: Open[] = [];
    let rest = at;
    for (const test of arm.tests) {
      if (!branch.subject && 'when' in test) {
        const [t, f] = this.cond(test.when, rest);
        yes.push(...t);
        rest = f;
        continue;
      }
      const operand = 'when' in test ? test.when : 'in' in test ? test.in : undefined;
      const tested = operand ? this.expr(operand, rest) : rest;
      const subject = branch.subject;
      if (!subject) { yes.push(...tested); rest = tested; continue; }
      yes.push(...this.when(tested, { is: 'match', subject, test, holds: true }));
      rest = this.when(tested, { is: 'match', subject, test, holds: false });
    }
    if (!arm.guard) return [yes, rest];
    const [t, f] = this.cond(arm.guard, yes);
    return [t, [...rest, ...f]];
  }

  private loop(loop: Loop, at: Open[]): Open[] {
    const frame: Frame = { is: 'loop', label: loop.label, breaks: [], continues: [] };
    let ins = (loop.before ?? []).reduce((open, stmt) => this.stmt(stmt, open), at);
    if (loop.over) ins = this.expr(loop.over.source, ins);
    if (ins.length === 0) return ins;
    // The head is one step, so that the way back has a place to arrive at.
    const head = this.place(loop);
    this.join(ins, head);
    const start: Open[] = [{ from: head }];
    let into: Open[]; let done: Open[] = [];
    if (loop.over) {
      into = this.when(start, { is: 'round', loop, holds: true });
      done = this.when(start, { is: 'round', loop, holds: false });
    } else if (loop.test && loop.testFirst) {
      [into, done] = this.cond(loop.test, start);
    } else into = start;
    let out = this.within(frame, () => this.stmt(loop.body, into));
    out = [...out, ...frame.continues];
    out = (loop.step ?? []).reduce((open, stmt) => this.stmt(stmt, open), out);
    if (loop.test && !loop.testFirst) {
      const [again, stop] = this.cond(loop.test, out);
      this.join(again, head);
      done = stop;
    } else this.join(out, head);
    return [...done, ...frame.breaks];
  }

  private tryStmt(stmt: Try, at: Open[]): Open[] {
    const last = stmt.last;
    const build = (): Open[] => {
      if (stmt.catches.length === 0) return this.stmt(stmt.body, at);
      const frame: Frame = { is: 'catching', raised: [] };
      const outs = this.within(frame, () => this.stmt(stmt.body, at));
      // An empty body raises nothing; a body without a call may still raise (a cast, a null).
      const raised = frame.raised.length > 0 ? frame.raised : this.when(at, { is: 'exception' });
      return [...outs, ...stmt.catches.flatMap(c => this.stmt(c.body, raised))];
    };
    if (!last) return build();
    const frame: Frame = { is: 'finally', last, raised: [] };
    const outs = this.within(frame, build);
    const ends = this.stmt(last, outs);
    if (frame.raised.length > 0) this.raise(this.stmt(last, frame.raised));
    return ends;
  }

  private leave(stmt: Return, at: Open[]): Open[] {
    const open = this.step(stmt, stmt.value ? this.expr(stmt.value, at) : at);
    const target = this.frames.findLastIndex(frame => frame.is === 'lambda' && (
      stmt.label !== undefined ? frame.labels.includes(stmt.label) : stmt.implicit === true || this.language === 'typescript'));
    const arrived = this.unwind(target, open);
    const frame = this.frames[target];
    if (frame?.is === 'lambda') frame.outs.push(...arrived);
    else this.returned.push(...arrived);
    return [];
  }

  private jump(stmt: Jump, at: Open[]): Open[] {
    const open = this.step(stmt, at);
    const target = this.frames.findLastIndex(frame =>
      frame.is === 'loop' ? stmt.label === undefined || stmt.label === frame.label
        : frame.is === 'breakable' && stmt.to === 'break' && (stmt.label === undefined ? frame.plain : stmt.label === frame.label));
    const frame = this.frames[target];
    const arrived = this.unwind(target, open);
    if (frame?.is === 'loop') (stmt.to === 'break' ? frame.breaks : frame.continues).push(...arrived);
    else if (frame?.is === 'breakable') frame.breaks.push(...arrived);
    return [];
  }

  /** Runs the `finally` blocks between here and the frame with that index (-1: the function's end). */
  private unwind(target: number, at: Open[]): Open[] {
    const kept = this.frames;
    let open = at;
    for (let i = kept.length - 1; i > target; i--) {
      const frame = kept[i]!;
      if (frame.is !== 'finally') continue;
      this.frames = kept.slice(0, i);
      open = this.stmt(frame.last, open);
    }
    this.frames = kept;
    return open;
  }

  private raise(at: Open[]): void {
    const frame = this.frames.findLast(f => f.is === 'catching' || f.is === 'finally');
    const raised = frame?.is === 'catching' || frame?.is === 'finally' ? frame.raised : this.thrown;
    raised.push(...at);
  }

  /** A step that may raise: only seen where a `try` stands around it. */
  private mayRaise(at: Open[]): Open[] {
    if (this.frames.some(f => f.is === 'catching' || f.is === 'finally')) this.raise(this.when(at, { is: 'exception' }));
    return at;
  }

  // ---- Expressions --------------------------------------------------------

  /** Evaluates an expression; ways on which a TypeScript `?.` found null rejoin behind the whole chain. */
  private expr(expr: Expr, at: Open[]): Open[] {
    if (at.length === 0) return at;
    const nulls: Open[] = [];
    const out = this.chain(expr, at, nulls);
    return nulls.length > 0 ? [...out, ...nulls] : out;
  }

  private chain(expr: Expr, at: Open[], nulls: Open[]): Open[] {
    if (at.length === 0) return at;
    switch (expr.kind) {
      case 'Literal': case 'This': return at;
      case 'Name': case 'FnRef': case 'Lambda': case 'ObjectExpr': return this.step(expr, this.made(expr, at));
      case 'Template': return this.step(expr, this.all(expr.parts, at));
      case 'ListExpr': return this.step(expr, this.all(expr.items, at));
      case 'Unknown': return this.step(expr, this.all(expr.children, at));
      case 'Member': {
        const [on, skipped] = this.object(expr, at, nulls);
        return [...this.step(expr, on), ...skipped];
      }
      case 'Index': {
        let open = this.chain(expr.object, at, nulls);
        if (expr.safe) open = this.nullSplit(expr.object, open, nulls);
        return this.step(expr, this.expr(expr.index, open));
      }
      case 'Call': return this.call(expr, at, nulls);
      case 'Assign': {
        const target = expr.target;
        const into = target.kind === 'Member' ? this.expr(target.object, at)
          : target.kind === 'Index' ? this.expr(target.index, this.expr(target.object, at)) : at;
        return this.step(expr, this.expr(expr.value, into));
      }
      case 'Unary':
        if (expr.op === '!!') return this.step(expr, this.mayRaise(this.chain(expr.value, at, nulls)));
        return this.step(expr, this.expr(expr.value, at));
      case 'Binary': return this.binary(expr, at);
      case 'Is': return this.step(expr, this.expr(expr.value, at));
      case 'Cast': return this.step(expr, this.expr(expr.value, at));
      case 'Choose': {
        const out = expr.branch.kind === 'Branch' ? this.branch(expr.branch, at, true) : this.tryStmt(expr.branch, at);
        return this.step(expr, out);
      }
      case 'Leave': return this.stmt(expr.by, at);
      case 'Await': return this.mayRaise(this.step(expr, this.expr(expr.value, at)));
      case 'Emit': return this.mayRaise(this.step(expr, expr.value ? this.expr(expr.value, at) : at));
    }
  }

  /** The object of a member access, with the ways on which it was null: they skip this step (Kotlin) or the chain. */
  private object(member: Expr & { kind: 'Member' }, at: Open[], nulls: Open[]): [on: Open[], skipped: Open[]] {
    const open = this.chain(member.object, at, nulls);
    if (!member.safe) return [open, []];
    const skipped: Open[] = [];
    const on = this.nullSplit(member.object, open, member.safe === 'chain' ? nulls : skipped);
    return [on, skipped];
  }

  private nullSplit(value: Expr, at: Open[], nulls: Open[]): Open[] {
    nulls.push(...this.when(at, { is: 'null', value, holds: true }));
    return this.when(at, { is: 'null', value, holds: false });
  }

  private call(call: Call, at: Open[], nulls: Open[]): Open[] {
    let open: Open[];
    let skipped: Open[] = [];
    if (call.callee.kind === 'Member') [open, skipped] = this.object(call.callee, at, nulls);
    else open = call.callee.kind === 'Name' ? at : this.chain(call.callee, at, nulls);
    if (call.safe) open = this.nullSplit(call.callee, open, nulls);
    const inlined = this.inline(call);
    for (const arg of call.args) {
      if (!inlined.some(it => it.lambda === arg.value)) open = this.expr(arg.value, open);
    }
    const label = call.callee.kind === 'Member' || call.callee.kind === 'Name' ? call.callee.name : undefined;
    for (const { lambda, runs } of inlined) open = this.lambda(lambda, runs, label, call, open);
    return [...this.mayRaise(this.step(call, open)), ...skipped];
  }

  private lambda(lambda: Expr & { kind: 'Lambda' }, runs: 'now' | 'now-maybe' | 'now-many', calleeName: string | undefined, call: Call, at: Open[]): Open[] {
    if (at.length === 0) return at;
    this.inlined.add(lambda.fn);
    const labels = [lambda.label, calleeName].filter(l => l !== undefined);
    const body = (into: Open[]): Open[] => {
      const frame: Frame = { is: 'lambda', labels, outs: [] };
      const out = this.within(frame, () => lambda.fn.body ? this.stmt(lambda.fn.body, this.defaults(lambda.fn, into)) : into);
      return [...out, ...frame.outs];
    };
    if (runs === 'now') return body(at);
    if (runs === 'now-maybe') return [...at, ...body(at)];
    const head = this.place(lambda);
    this.join(at, head);
    this.join(body(this.when([{ from: head }], { is: 'round', loop: call, holds: true })), head);
    return this.when([{ from: head }], { is: 'round', loop: call, holds: false });
  }

  private binary(expr: Expr & { kind: 'Binary' }, at: Open[]): Open[] {
    if (expr.op === '&&' || expr.op === '||') {
      const [yes, no] = this.cond(expr, at);
      return [...yes, ...no];
    }
    if (expr.op === '??') {
      const left = this.expr(expr.left, at);
      const some = this.when(left, { is: 'null', value: expr.left, holds: false });
      const none = this.expr(expr.right, this.when(left, { is: 'null', value: expr.left, holds: true }));
      return this.step(expr, [...some, ...none]);
    }
    return this.step(expr, this.expr(expr.right, this.expr(expr.left, at)));
  }

  /** Evaluates a condition; the connectives become edges. */
  private cond(expr: Expr, at: Open[]): [yes: Open[], no: Open[]] {
    if (at.length === 0) return [[], []];
    if (expr.kind === 'Unary' && expr.op === '!') {
      const [yes, no] = this.cond(expr.value, at);
      return [no, yes];
    }
    if (expr.kind === 'Binary' && (expr.op === '&&' || expr.op === '||')) {
      const [yes, no] = this.cond(expr.left, at);
      const [second, other] = this.cond(expr.right, expr.op === '&&' ? yes : no);
      return expr.op === '&&' ? [second, [...no, ...other]] : [[...yes, ...second], other];
    }
    if (expr.kind === 'Literal' && typeof expr.value === 'boolean') return expr.value ? [at, []] : [[], at];
    const open = this.expr(expr, at);
    return [this.when(open, { is: 'condition', test: expr, holds: true }), this.when(open, { is: 'condition', test: expr, holds: false })];
  }

  private all(exprs: readonly Expr[], at: Open[]): Open[] {
    return exprs.reduce((open, expr) => this.expr(expr, open), at);
  }

  /** What is evaluated when an object is made: its field values and super arguments; its functions run later. */
  private made(expr: Expr, at: Open[]): Open[] {
    if (expr.kind === 'FnRef') return expr.object ? this.expr(expr.object, at) : at;
    if (expr.kind !== 'ObjectExpr') return at;
    let open = at;
    for (const supertype of expr.body.supertypes) open = this.all((supertype.args ?? []).map(a => a.value), open);
    open = this.all(expr.body.spreads, open);
    for (const field of expr.body.fields) if (field.initial && !field.static) open = this.expr(field.initial, open);
    return open;
  }

  private defaults(fn: Fn, at: Open[]): Open[] {
    return this.patternDefaults(fn.params.flatMap(p => [p.defaultValue, ...(p.pattern ?? []).map(b => b.defaultValue)]), at);
  }

  /** A default value is evaluated only when nothing was given. */
  private patternDefaults(values: readonly (Expr | undefined)[], at: Open[]): Open[] {
    return values.reduce((open, value) => value ? [...open, ...this.expr(value, open)] : open, at);
  }

  // ---- Steps and edges ----------------------------------------------------

  private within<T>(frame: Frame, build: () => T): T {
    this.frames.push(frame);
    const result = build();
    this.frames.pop();
    return result;
  }

  private step(node: Stmt | Expr, at: Open[]): Open[] {
    if (at.length === 0) return at;
    const step = this.place(node);
    this.join(at, step);
    return [{ from: step }];
  }

  private place(node: Stmt | Expr): Step {
    const step = this.bare(node);
    const steps = this.byNode.get(node);
    if (steps) steps.push(step);
    else this.byNode.set(node, [step]);
    return step;
  }

  private bare(node?: Stmt | Expr): Step {
    if (this.steps.length >= STEP_CAP) throw new TooLarge();
    const step: Step = { id: this.steps.length, ...(node && { node }), next: [], before: [] };
    this.steps.push(step);
    return step;
  }

  private join(at: readonly Open[], to: Step): void {
    for (const { from, when } of at) {
      const edge: Edge = { from, to, ...(when && { when }) };
      from.next.push(edge);
      to.before.push(edge);
    }
  }

  /** Only the last guard of a way is kept: a later one is never weaker for the questions asked. */
  private when(at: readonly Open[], guard: Guard): Open[] {
    return at.map(open => open.when ? { from: this.pass(open), when: guard } : { from: open.from, when: guard });
  }

  /** A way that already carries a guard gets an empty step, so that both guards stay visible. */
  private pass(open: Open): Step {
    const step = this.bare();
    this.join([open], step);
    return step;
  }
}
