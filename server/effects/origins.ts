/**
 * Where a link comes from, looked at from the place that uses it: back through locals, scope functions, elements of
 * collections, parameters and their arguments, results of functions and of awaited continuations, to the declarations that
 * hold it, the callback that was given it, or the call that made it. What becomes of a fresh link is `holders.ts`.
 */
import type { AnyNode, Call, Expr, Fn, Param } from '../ir/ir.js';
import type { Decl } from '../resolve/api.js';
import type { Analysis } from './analysis.js';
import { roleOf } from './roles.js';
import { runOf } from './runs.js';
import { returnsFrom } from './use.js';

export type Origin =
  /** It is, or is in, what this declaration holds. */
  | { readonly is: 'decl'; readonly decl: Decl }
  /** The platform passes it to this callback. */
  | { readonly is: 'callback-link'; readonly fn: Fn }
  /** This call opens it, or asks the platform for it. */
  | { readonly is: 'made'; readonly call: Call }
  /** Whoever calls this function from outside the program brings it. */
  | { readonly is: 'outside'; readonly fn: Fn }
  | { readonly is: 'unknown' };

/** Everything that an expression may stand for. */
export function originsOf(a: Analysis, expr: Expr): readonly Origin[] {
  return a.once<Expr, readonly Origin[]>('origins', expr, [], () => {
    const search = new Search(a);
    search.from(expr, []);
    return search.found;
  });
}

/** The origins of what a call is made on; Kotlin's implicit receivers included. */
export function receiverOrigins(a: Analysis, call: Call): readonly Origin[] {
  return a.once<Call, readonly Origin[]>('receiver-origins', call, [], () => {
    const receiver = a.resolver.calleeOf(call).receiver;
    if (receiver?.expr) return originsOf(a, receiver.expr);
    const search = new Search(a);
    search.fromImplicit(call, receiver?.ty?.name);
    return search.found;
  });
}

/** What a function returns, out of the lambdas in it as well. */
export function returnsOf(a: Analysis, fn: Fn): readonly Expr[] {
  return a.once<Fn, readonly Expr[]>('returns-of', fn, [], () => {
    const found: Expr[] = [];
    if (fn.body) {
      a.eachBelow(fn.body, node => {
        if (node.kind === 'Return' && node.value && returnsFrom(a, node) === fn) found.push(node.value);
        return node.kind === 'Class' || (node.kind === 'Fn' && node.name !== undefined) ? 'skip' : undefined;
      });
    }
    return found;
  });
}

/** Calls of the function value that a parameter holds: `block(…)`, `block.invoke(…)`, `gatt.block()`. */
export function invocationsOf(a: Analysis, param: Param): readonly Call[] {
  const decl = a.resolver.declFor(param);
  return (decl ? a.resolver.readsOf(decl) : []).flatMap(read => {
    const up = a.program.parentOf(read);
    if (up?.kind === 'Call' && up.callee === read) return [up];
    const call = up?.kind === 'Member' && up.object === read && up.name === 'invoke' ? a.program.parentOf(up) : undefined;
    return call?.kind === 'Call' ? [call] : [];
  });
}

/** What a continuation, promise or deferred that a lambda is given is resumed with. */
export function resumedWith(a: Analysis, lambda: Fn): readonly Expr[] {
  const [param] = lambda.params;
  const decl = param && a.resolver.declFor(param);
  return (decl ? a.resolver.readsOf(decl) : []).flatMap(read => {
    const up = a.program.parentOf(read);
    const call = up?.kind === 'Call' && up.callee === read ? up
      : up?.kind === 'Member' && up.object === read && /^(?:resume|tryResume|resumeWith|complete)$/.test(up.name) ? a.program.parentOf(up) : undefined;
    const value = call?.kind === 'Call' ? call.args[0]?.value : undefined;
    return value ? [value] : [];
  });
}

const DEPTH = 24;

class Search {
  readonly found: Origin[] = [];
  private readonly seen = new Set<unknown>();
  private depth = 0;

  constructor(private readonly a: Analysis) {}

  /** @param path properties still to be read from what the expression yields */
  from(expr: Expr, path: readonly (string | number)[]): void {
    if (this.seen.has(expr)) return;
    this.seen.add(expr);
    if (this.depth >= DEPTH) return this.add({ is: 'unknown' });
    this.depth++;
    this.expr(expr, path);
    this.depth--;
  }

  /** The nearest receiver of that type around a call that names none. */
  fromImplicit(call: AnyNode, type: string | undefined): void {
    const { a } = this;
    for (let fn = a.program.enclosingFn(call); fn; fn = a.program.enclosingFn(fn)) {
      if (fn.receiver && a.resolver.typeOfRef(fn.receiver, fn)?.name === type) return this.extension(fn);
      const lambda = a.program.parentOf(fn);
      const taker = lambda && a.program.parentOf(lambda);
      if (lambda?.kind !== 'Lambda' || taker?.kind !== 'Call') continue;
      const run = runOf(a, taker, lambda);
      if (run?.through) {
        const wanted = run.through.param.type?.receiver;
        if (wanted && a.resolver.typeOfRef(wanted, run.through.fn)?.name === type) return this.invokedOn(run.through.param, type);
        continue;
      }
      const self = run?.runner?.self === 'receiver' ? a.resolver.calleeOf(taker).receiver?.expr : run?.runner?.self === 'first-argument' ? taker.args[0]?.value : undefined;
      if (self && a.resolver.typeOf(self)?.name === type) return this.from(self, []);
    }
    this.add({ is: 'unknown' });
  }

  private add(origin: Origin): void {
    const known = this.found.some(o => o.is === origin.is && (o.is !== 'decl' || origin.is !== 'decl' || o.decl === origin.decl)
      && (o.is !== 'callback-link' || origin.is !== 'callback-link' || o.fn === origin.fn) && (o.is !== 'made' || origin.is !== 'made' || o.call === origin.call));
    if (!known) this.found.push(origin);
  }

  private all(exprs: readonly Expr[], path: readonly (string | number)[]): void {
    exprs.forEach(expr => this.from(expr, path));
  }

  private expr(expr: Expr, path: readonly (string | number)[]): void {
    const { a } = this;
    switch (expr.kind) {
      case 'Name': case 'Member': return this.named(expr, path);
      case 'This': return this.self(expr);
      case 'Binary':
        if (expr.op === '??' || expr.op === '||') this.all([expr.left, expr.right], path);
        else if (expr.op === '&&' || expr.op === ',') this.from(expr.right, path);
        return;
      case 'Unary': case 'Cast': case 'Await': return this.from(expr.value, path);
      case 'Assign': return this.all([expr.target, expr.value], path);
      case 'Index': return this.from(expr.object, path);
      case 'Choose': return this.all(yieldsOf(a, expr), path);
      case 'ListExpr': return this.all(expr.items, path);
      case 'ObjectExpr': {
        const [name, ...rest] = path;
        const field = expr.body.fields.find(f => f.name === name);
        return field?.initial ? this.from(field.initial, rest) : this.add({ is: 'unknown' });
      }
      case 'Call': return this.called(expr, path);
      case 'Literal': case 'Leave': case 'Template': return;
      default: return this.add({ is: 'unknown' });
    }
  }

  private named(expr: Expr & { kind: 'Name' | 'Member' }, path: readonly (string | number)[]): void {
    const decl = this.a.resolver.declOf(expr);
    if (!decl) {
      // A property of something that is not known may be any property of that name.
      this.add({ is: 'unknown' });
      if (expr.kind === 'Member') this.from(expr.object, [expr.name, ...path]);
      return;
    }
    switch (decl.is) {
      // `device.gatt`, `entry.value`: a property of the platform belongs to the object it is read from.
      case 'platform': return expr.kind === 'Member' ? this.from(expr.object, path) : this.add({ is: 'unknown' });
      case 'param': return this.param(decl.node, path);
      case 'local': return this.local(decl, path);
      case 'field': return this.field(decl, path);
      default: return this.add({ is: 'unknown' });
    }
  }

  private field(decl: Decl & { is: 'field' }, path: readonly (string | number)[]): void {
    if (this.visited(decl)) return;
    this.add({ is: 'decl', decl });
    const { a } = this;
    if (decl.node.getter) this.all(returnsOf(a, decl.node.getter), path);
    if (decl.node.initial && isAlias(decl.node.initial)) this.from(decl.node.initial, path);
    if (decl.node.fromParam) this.propertyParam(decl, path);
    for (const { value } of a.resolver.writesTo(decl)) if (value && isAlias(value)) this.from(value, path);
  }

  /** What callers pass for a property that the constructor declares. */
  private propertyParam(decl: Decl & { is: 'field' }, path: readonly (string | number)[]): void {
    const param = decl.owner?.constructors.flatMap(fn => fn.params).find(p => p.property && p.name === decl.name);
    const ctor = param && this.a.program.parentOf(param);
    if (!param || ctor?.kind !== 'Fn') return;
    for (const call of this.a.resolver.callersOf(ctor)) {
      const arg = this.a.resolver.argumentFor(call, ctor, param);
      if (arg && isAlias(arg)) this.from(arg, path);
    }
  }

  private local(decl: Decl & { is: 'local' }, path: readonly (string | number)[]): void {
    if (this.visited(decl)) return;
    this.add({ is: 'decl', decl });
    const into = [...(decl.binding?.path ?? []), ...path];
    const { node } = decl;
    if (node.kind === 'Loop') return node.over && this.from(node.over.source, path);
    if (node.kind === 'Branch') return node.subject && this.from(node.subject, path);
    const states = stateValues(this.a, decl);
    if (states) return this.all(states, path);
    this.all(this.a.resolver.writesTo(decl).flatMap(write => (write.value ? [write.value] : [])), into);
  }

  private visited(decl: Decl): boolean {
    if (this.seen.has(decl)) return true;
    this.seen.add(decl);
    return false;
  }

  // ---- Parameters and receivers -------------------------------------------

  private param(param: Param, path: readonly (string | number)[]): void {
    const { a } = this;
    const decl = a.resolver.declFor(param);
    const fn = a.program.parentOf(param);
    if (fn?.kind !== 'Fn') return this.add({ is: 'unknown' });
    if (decl && this.visited(decl)) return;
    if (decl) this.add({ is: 'decl', decl });
    const callback = a.resolver.isPlatformCallback(fn);
    if (callback) return this.add(callback.member.params?.[fn.params.indexOf(param)]?.is === 'link' ? { is: 'callback-link', fn } : { is: 'unknown' });
    const lambda = a.program.parentOf(fn);
    if (lambda?.kind === 'Lambda') return this.lambdaParam(fn, param, path);
    const callers = a.resolver.callersOf(fn);
    const passed = callers.flatMap(call => a.resolver.argumentFor(call, fn, param) ?? []);
    this.all(passed, path);
    this.referenced(fn, fn.params.indexOf(param), path);
    if (callers.length > 0 || a.resolver.referencesTo(fn).length > 0) return;
    // What a framework passes to an override of its own (a message, an event) may be anything.
    this.add(fn.modifiers.has('override') ? { is: 'unknown' } : { is: 'outside', fn });
  }

  /** `gatt?.let(::release)`, `gatts.forEach(this.release)`: a function that is handed to one that runs it. */
  private referenced(fn: Fn, position: number, path: readonly (string | number)[]): void {
    for (const use of this.a.resolver.referencesTo(fn)) {
      const call = this.a.program.parentOf(use);
      if (call?.kind === 'Call' && call.callee !== use) this.passedBy(call, use, position, path);
      else this.add({ is: 'unknown' });
    }
  }

  private lambdaParam(fn: Fn, param: Param, path: readonly (string | number)[]): void {
    const lambda = this.a.program.parentOf(fn)!;
    const call = this.a.program.parentOf(lambda);
    if (call?.kind === 'Call' && call.callee !== lambda) return this.passedBy(call, lambda as Expr, fn.params.indexOf(param), path);
    const callers = this.a.resolver.callersOf(fn);
    if (callers.length === 0) return this.add({ is: 'unknown' });
    this.all(callers.flatMap(each => this.a.resolver.argumentFor(each, fn, param) ?? []), path);
  }

  /** What the call that takes a function value gives it as its parameter at a position. */
  private passedBy(call: Call, value: Expr, position: number, path: readonly (string | number)[]): void {
    const { a } = this;
    const run = runOf(a, call, value);
    if (run?.through) {
      const invoked = invocationsOf(a, run.through.param).flatMap(each => each.args[position]?.value ?? []);
      return invoked.length > 0 ? this.all(invoked, path) : this.add({ is: 'unknown' });
    }
    const passes = run?.runner?.passes?.[position] ?? (run?.runner && position === 0 ? 'unknown' : undefined);
    const object = a.resolver.calleeOf(call).receiver?.expr ?? (call.callee.kind === 'Member' ? call.callee.object : undefined);
    if (passes === 'first-argument' && call.args[0]) return this.from(call.args[0].value, path);
    if (object && passes !== undefined && /^(?:receiver|element|entry|value|settled-value)$/.test(passes)) return this.from(object, path);
    this.add({ is: 'unknown' });
  }

  private self(expr: Expr & { kind: 'This' }): void {
    const type = this.a.resolver.typeOf(expr)?.name;
    if (type !== undefined && /^Bluetooth/.test(type)) this.fromImplicit(expr, type);
    else this.add({ is: 'unknown' });
  }

  /** What an extension function is called on. */
  private extension(fn: Fn): void {
    if (this.seen.has(fn)) return;
    this.seen.add(fn);
    const callers = this.a.resolver.callersOf(fn);
    for (const call of callers) {
      const receiver = this.a.resolver.calleeOf(call).receiver;
      if (receiver?.expr) this.from(receiver.expr, []);
      else this.fromImplicit(call, receiver?.ty?.name);
    }
    for (const use of this.a.resolver.referencesTo(fn)) {
      const call = this.a.program.parentOf(use);
      if (use.kind === 'FnRef' && call?.kind === 'Call' && call.callee !== use) this.passedBy(call, use, 0, []);
      else this.add({ is: 'unknown' });
    }
    if (callers.length === 0) this.add({ is: 'outside', fn });
  }

  /** What a function value with receiver is called on: `gatt.block()`. */
  private invokedOn(param: Param, type: string | undefined): void {
    const calls = invocationsOf(this.a, param);
    const named = this.a.program.callsNamed(param.name).filter(call => call.callee.kind === 'Member' && this.isHeldBy(call, param));
    for (const call of named) if (call.callee.kind === 'Member') this.from(call.callee.object, []);
    // `block(gatt)`, or `block()` where the receiver is the one around.
    for (const call of calls) {
      if (call.args[0]) this.from(call.args[0].value, []);
      else this.fromImplicit(call, type);
    }
    if (named.length + calls.length === 0) this.add({ is: 'unknown' });
  }

  private isHeldBy(call: Call, param: Param): boolean {
    const value = this.a.resolver.calleeOf(call).value;
    return value === param || (value?.kind === 'Name' && this.a.resolver.declOf(value) === this.a.resolver.declFor(param));
  }

  // ---- Results of calls ---------------------------------------------------

  private called(call: Call, path: readonly (string | number)[]): void {
    const { a } = this;
    if (roleOf(a, call)?.does.has('opens-link')) return this.add({ is: 'made', call });
    const callee = a.resolver.calleeOf(call);
    const returns = callee.constructs ? [] : callee.fns.flatMap(fn => returnsOf(a, fn));
    if (returns.length > 0) return this.all(returns, path);
    for (const { value } of call.args) {
      const run = value.kind === 'Lambda' ? runOf(a, call, value) : undefined;
      if (value.kind !== 'Lambda' || !run?.runner) continue;
      switch (run.runner.yields) {
        case 'lambda': case 'lambda-or-null': return this.all(returnsOf(a, value.fn), path);
        case 'resumed': return this.all(resumedWith(a, value.fn), path);
        default: break;
      }
    }
    const { callee: target } = call;
    if (target.kind === 'Member') {
      // The platform's own objects make links and devices; anything else hands out what was put into it, and what a server
      // of Web Bluetooth hands out leads back to it (`characteristic.service.device.gatt`).
      const type = callee.receiver?.ty?.name ?? '';
      if (callee.members.length > 0 && /^Bluetooth(?!Remote)/.test(type) && !/^(?:also|apply|let|run|takeIf|takeUnless)$/.test(target.name)) return this.add({ is: 'made', call });
      return this.from(target.object, path);
    }
    // `checkNotNull(gatt)`, `requireNotNull(gatt)`, `WeakReference(gatt)`.
    const [first] = call.args;
    if (first && (callee.members.length > 0 || callee.constructs)) return this.from(first.value, path);
    this.add({ is: 'unknown' });
  }
}

/** `const [device, setDevice] = useState()`: what it begins with, and what the setter is given. */
function stateValues(a: Analysis, { node, binding }: Decl & { is: 'local' }): readonly Expr[] | undefined {
  if (node.kind !== 'Let' || binding?.path.length !== 1 || binding.path[0] !== 0 || node.value?.kind !== 'Call' || !/^use[A-Z]/.test(a.calleeName(node.value) ?? '')) return undefined;
  const sibling = node.bindings.find(other => other.path[0] === 1);
  const setter = sibling && a.resolver.declFor(node, sibling);
  if (!setter) return undefined;
  const given = a.resolver.readsOf(setter).flatMap(read => {
    const call = a.program.parentOf(read);
    const value = call?.kind === 'Call' && call.callee === read ? call.args[0]?.value : undefined;
    return value?.kind === 'Lambda' ? returnsOf(a, value.fn) : value ? [value] : [];
  });
  return [...node.value.args.map(arg => arg.value), ...given];
}

/** Something that only names what is held elsewhere. */
function isAlias(value: Expr): boolean {
  switch (value.kind) {
    case 'Name': case 'Member': case 'This': return true;
    case 'Unary': case 'Cast': case 'Await': return isAlias(value.value);
    case 'Binary': return value.op === '??' && isAlias(value.left);
    default: return false;
  }
}

/** The values of the arms of a branch or try that yields one. */
export function yieldsOf(a: Analysis, choose: Expr & { kind: 'Choose' }): readonly Expr[] {
  const found: Expr[] = [];
  a.eachBelow(choose.branch, node => {
    if (node.kind === 'Yield') found.push(node.value);
    return node.kind === 'Fn' || node.kind === 'Choose' ? 'skip' : undefined;
  });
  return found;
}
