/**
 * Who holds a fresh link: the way forward from the call that opens it, through locals, results, scope functions, wrappers
 * and collections, to the declarations that keep it. What an expression elsewhere stands for is `origins.ts`.
 */
import type { AnyNode, Call, Expr, Fn } from '../ir/ir.js';
import type { Decl } from '../resolve/api.js';
import type { Analysis } from './analysis.js';
import { invocationsOf } from './origins.js';
import { isLogCall } from './roles.js';
import { runOf, runOfLambda, type Run } from './runs.js';
import { returnsFrom } from './use.js';

export type Holder =
  | { readonly is: 'decl'; readonly decl: Decl; readonly keeps: Keeps; readonly weak?: true }
  /** The result is thrown away; the callback object alone ever sees the link. */
  | { readonly is: 'dropped' }
  /** Whoever calls this function from outside the program gets it. */
  | { readonly is: 'caller'; readonly fn: Fn }
  | { readonly is: 'unknown'; readonly at: AnyNode };

/** Whether a second link takes the place of the first: always, for the same key, never. */
export type Keeps = 'one' | 'by-key' | 'many';

export function holdersOf(a: Analysis, open: Expr): readonly Holder[] {
  return a.once<Expr, readonly Holder[]>('holders', open, [], () => {
    const flow = new Flow(a);
    flow.goesOn(open, PLAIN);
    return flow.found.length > 0 ? flow.found : [{ is: 'dropped' }];
  });
}

/** Where what a parameter or local holds is put besides: by a callback that is given a link, by whoever has the device. */
export function keptFrom(a: Analysis, decl: Decl): readonly Holder[] {
  return a.once<Decl, readonly Holder[]>('kept-from', decl, [], () => {
    const flow = new Flow(a);
    flow.readBy(decl, PLAIN);
    return flow.found;
  });
}

/** What is on its way: the link itself, or (`boxed`) an object of the project that has it in a field. */
interface Freight { readonly keeps: Keeps; readonly weak?: true; readonly boxed?: true }
const PLAIN: Freight = { keeps: 'one' };

/** Functions and classes that hand on what they are given, in themselves or as their value. common practice, no source */
const WRAPPERS = /^(?:Atomic(?:Reference|Ref)|atomic|Mutable(?:StateFlow|LiveData|SharedFlow)|mutable(?:State|StateList|StateMap)Of|Pair|Triple|to|Optional|of|ofNullable|listOf(?:NotNull)?|setOf(?:NotNull)?|mapOf|arrayOf|arrayListOf|mutable(?:List|Set|Map)Of|hashMapOf|lazyOf|flowOf|success|just|checkNotNull|requireNotNull|requireNonNull|remember|rememberUpdatedState|resolve|ref|shallowRef|signal|writable|useRef|useState|BehaviorSubject|Map|Set|freeze|markRaw|reactive|unref|toRaw)$/;
const WEAK = /^(?:WeakReference|SoftReference|PhantomReference|WeakRef)$/;
/** Functions that put what they are given into what they are called on. common practice, no source */
const PUTS: Readonly<Record<Keeps, RegExp>> = {
  'one': /^(?:set|setValue|postValue|emit|tryEmit|lazySet|compareAndSet|getAndSet|getAndUpdate|update|updateAndGet|complete|next|assign)$/,
  'by-key': /^(?:put|putIfAbsent|getOrPut|computeIfAbsent|compute|merge|replace|set|put\w*)$/,
  'many': /^(?:add|addFirst|addLast|addAll|offer|push|unshift|plus|plusAssign|send|trySend|insert|put)$/,
};

class Flow {
  readonly found: Holder[] = [];
  private readonly seen = new Set<AnyNode>();

  constructor(private readonly a: Analysis) {}

  /** The value of an expression goes to whatever stands around it. */
  goesOn(value: Expr, freight: Freight): void {
    if (this.seen.has(value)) return;
    this.seen.add(value);
    const { a } = this;
    const parent = a.program.parentOf(value);
    if (!parent) return this.add({ is: 'unknown', at: value });
    switch (parent.kind) {
      case 'Unary': if (parent.op === '!!' || parent.op === '...') this.goesOn(parent, freight); return;
      case 'Cast': case 'Choose': case 'Await': return this.goesOn(parent, freight);
      case 'Binary':
        if (parent.op === '??' || parent.op === '||' || ((parent.op === '&&' || parent.op === ',') && parent.right === value)) this.goesOn(parent, freight);
        return;
      case 'Yield': {
        const choose = enclosingChoose(a, parent);
        return choose ? this.goesOn(choose, freight) : undefined;
      }
      case 'Let': return this.bound(parent, freight);
      case 'Field': return this.intoField(parent, freight);
      case 'Param': return this.kept(a.resolver.declFor(parent), freight, parent);
      case 'Assign': {
        if (parent.value !== value) return;
        this.into(parent.target, parent.target.kind === 'Index' ? { ...freight, keeps: 'by-key' } : freight);
        return this.goesOn(parent, freight);
      }
      case 'ListExpr': return this.goesOn(parent, { ...freight, keeps: 'many' });
      case 'Return': return this.returned(parent, freight);
      case 'Call': return parent.callee === value ? undefined : this.given(parent, value, freight);
      case 'Member': return parent.object === value ? this.calledOn(parent, freight) : undefined;
      case 'Loop': return this.iterated(parent, freight);
      // A `when` or `switch` over it, a text with it in it, a test of what it is: it stays where it was.
      case 'ExprStmt': case 'Block': case 'Branch': case 'Template': case 'Is': case 'Index': case 'Throw': return;
      default: return this.add({ is: 'unknown', at: parent });
    }
  }

  /** Everything that is done with a declaration that holds it. */
  readBy(decl: Decl, freight: Freight): void {
    for (const read of this.a.resolver.readsOf(decl)) this.goesOn(read, freight);
  }

  private add(holder: Holder): void {
    this.found.push(holder);
  }

  private kept(decl: Decl | undefined, freight: Freight, at: AnyNode): void {
    if (!decl || decl.is === 'platform') return this.add({ is: 'unknown', at });
    if (!freight.boxed) this.add({ is: 'decl', decl, keeps: freight.keeps, ...(freight.weak && { weak: true }) });
    if (decl.is === 'local' || decl.is === 'param') this.readBy(decl, freight);
    else if (decl.is === 'field' && !freight.boxed) this.handedOut(decl);
  }

  /** A field's reads matter where they hand the link to somebody who is not known. */
  private handedOut(decl: Decl): void {
    for (const read of this.a.resolver.readsOf(decl)) {
      const call = this.a.program.parentOf(read);
      if (call?.kind === 'Call' && call.callee !== read && this.isStranger(call)) this.add({ is: 'unknown', at: call });
    }
  }

  private isStranger(call: Call): boolean {
    const callee = this.a.resolver.calleeOf(call);
    if (callee.fns.length > 0 || callee.members.length > 0 || callee.constructs || isLogCall(this.a, call)) return false;
    const name = this.a.calleeName(call) ?? '';
    return !WRAPPERS.test(name) && !(Object.values(PUTS).some(put => put.test(name))) && !isHarmlessReflection(this.a, call);
  }

  private bound(parent: AnyNode & { kind: 'Let' }, freight: Freight): void {
    for (const binding of parent.bindings) {
      // `val (gatt, name) = …`: any of the parts may be it; what is no link has no closing call.
      this.kept(this.a.resolver.declFor(parent, binding), binding.path.length > 0 ? { ...freight } : freight, parent);
    }
  }

  private intoField(field: AnyNode & { kind: 'Field' }, freight: Freight): void {
    this.kept(this.a.resolver.declFor(field), freight, field);
    // `{ device, server }`: whoever gets the object gets the link.
    const body = this.a.program.parentOf(field);
    const object = body && this.a.program.parentOf(body);
    if (body?.kind === 'Class' && object?.kind === 'ObjectExpr') this.goesOn(object, { ...freight, boxed: true });
  }

  private into(target: Expr, freight: Freight): void {
    const { a } = this;
    if (target.kind === 'Index') return this.into(target.object, freight);
    if (target.kind === 'Unary' || target.kind === 'Cast') return this.into(target.value, freight);
    if (target.kind === 'Call') return target.callee.kind === 'Member' ? this.into(target.callee.object, freight) : this.add({ is: 'unknown', at: target });
    if (target.kind !== 'Name' && target.kind !== 'Member') return this.add({ is: 'unknown', at: target });
    const decl = a.resolver.declOf(target);
    // `state.value = gatt`, `ref.current = gatt`: what has the property holds it.
    if (target.kind === 'Member' && (decl === undefined || decl.is === 'platform')) {
      return target.object.kind === 'This' ? this.add({ is: 'unknown', at: target }) : this.into(target.object, freight);
    }
    this.kept(decl, freight, target);
  }

  private iterated(loop: AnyNode & { kind: 'Loop' }, freight: Freight): void {
    for (const binding of loop.over?.bindings ?? []) {
      const decl = this.a.resolver.declFor(loop, binding);
      if (decl) this.readBy(decl, freight);
    }
  }

  // ---- Out of functions ---------------------------------------------------

  private returned(stmt: AnyNode & { kind: 'Return' }, freight: Freight): void {
    const { a } = this;
    const fn = returnsFrom(a, stmt);
    const holder = fn && a.program.parentOf(fn);
    if (!fn) return this.add({ is: 'unknown', at: stmt });
    if (holder?.kind === 'Field') return this.kept(a.resolver.declFor(holder), freight, holder);
    if (holder?.kind === 'Lambda') {
      const call = a.program.parentOf(holder);
      if (call?.kind === 'Call' && call.callee !== holder) return this.yielded(call, runOf(a, call, holder), freight);
    }
    const callers = a.resolver.callersOf(fn);
    callers.forEach(call => this.goesOn(call, freight));
    if (callers.length === 0) this.add({ is: 'caller', fn });
  }

  /** What the taker of a lambda does with its value. */
  private yielded(call: Call, run: Run | undefined, freight: Freight): void {
    if (!run) return this.add({ is: 'unknown', at: call });
    if (run.through) {
      const invoked = invocationsOf(this.a, run.through.param);
      invoked.forEach(each => this.goesOn(each, freight));
      if (invoked.length === 0) this.add({ is: 'unknown', at: call });
      return;
    }
    const { runner } = run;
    if (call.callee.kind === 'Member' && /^(?:update|getAndUpdate|updateAndGet|getOrPut|computeIfAbsent)$/.test(call.callee.name)) this.into(call.callee.object, freight);
    if (runner?.yields === 'list-of-lambda') return this.goesOn(call, { ...freight, keeps: 'many' });
    if (runner?.yields !== undefined && /lambda|deferred/.test(runner.yields)) return this.goesOn(call, freight);
    if (run.value !== 'dropped' && run.value !== 'yielded') this.add({ is: 'unknown', at: call });
  }

  // ---- Into functions -----------------------------------------------------

  private given(call: Call, value: Expr, freight: Freight): void {
    const { a } = this;
    // What an effect depends on is only compared.
    if (isLogCall(a, call) || (value.kind === 'ListExpr' && /^use[A-Z]/.test(a.calleeName(call) ?? ''))) return;
    const callee = a.resolver.calleeOf(call);
    const name = a.calleeName(call) ?? '';
    if (WEAK.test(name)) return this.goesOn(call, { ...freight, weak: true });
    if (callee.constructs && 'kind' in callee.constructs && callee.constructs.kind === 'Class') return this.built(call, callee.constructs.fields, callee.fns, value, freight);
    if (callee.fns.length > 0) return callee.fns.forEach(fn => this.passed(call, fn, value, freight));
    if (name === 'copy' && this.copied(call, value, freight)) return;
    const put = (Object.keys(PUTS) as Keeps[]).find(keeps => PUTS[keeps].test(name));
    if (call.callee.kind === 'Member' && put && !this.resumes(call, freight)) return this.into(call.callee.object, { ...freight, keeps: this.keepsAt(call, put) });
    if (WRAPPERS.test(name)) return this.goesOn(call, freight);
    if (this.resumes(call, freight)) return;
    if (callee.members.length > 0 || isHarmlessReflection(a, call)) return;
    this.setState(call, freight);
  }

  /** `set` puts by key if it takes one. */
  private keepsAt(call: Call, put: Keeps): Keeps {
    const type = call.callee.kind === 'Member' ? this.a.resolver.typeOf(call.callee.object)?.name : undefined;
    if (type === 'map' || (put === 'one' && call.args.length > 1)) return 'by-key';
    return type === 'list' || type === 'set' ? 'many' : put;
  }

  private built(call: Call, fields: readonly (AnyNode & { kind: 'Field' })[], ctors: readonly Fn[], value: Expr, freight: Freight): void {
    const { a } = this;
    for (const ctor of ctors) {
      const param = ctor.params.find(p => a.resolver.argumentFor(call, ctor, p) === value);
      const field = param?.property ? fields.find(f => f.fromParam && f.name === param.name) : undefined;
      if (field) this.kept(a.resolver.declFor(field), freight, field);
      else this.passed(call, ctor, value, freight);
    }
    if (ctors.length === 0) this.add({ is: 'unknown', at: call });
    this.goesOn(call, { ...freight, boxed: true });
  }

  private passed(call: Call, fn: Fn, value: Expr, freight: Freight): void {
    const { a } = this;
    const param = fn.params.find(p => a.resolver.argumentFor(call, fn, p) === value);
    const decl = param && a.resolver.declFor(param);
    if (!decl || (!fn.body && fn.name !== 'constructor')) {
      // An interface that nothing in the program implements: a listener from elsewhere.
      if (a.resolver.implementationsOf(fn).length === 0) this.add({ is: 'unknown', at: call });
      return;
    }
    this.kept(decl, freight, call);
  }

  /** `state.copy(gatt = …)` of a data class. */
  private copied(call: Call, value: Expr, freight: Freight): boolean {
    const named = call.args.find(arg => arg.value === value)?.name;
    const cls = call.callee.kind === 'Member' ? this.a.resolver.typeOf(call.callee.object)?.class : undefined;
    const field = named !== undefined ? cls?.fields.find(f => f.name === named) : undefined;
    if (!field) return false;
    this.kept(this.a.resolver.declFor(field), freight, call);
    this.goesOn(call, { ...freight, boxed: true });
    return true;
  }

  /** `continuation.resume(gatt)`, `resolve(server)`: whoever waits gets it. */
  private resumes(call: Call, freight: Freight): boolean {
    const { a } = this;
    const { callee } = call;
    const target = callee.kind === 'Name' ? callee : callee.kind === 'Member' && /^(?:resume|tryResume|resumeWith)$/.test(callee.name) ? callee.object : undefined;
    const decl = target?.kind === 'Name' ? a.resolver.declOf(target) : undefined;
    const run = decl?.is === 'param' ? runOfLambda(a, decl.fn) : undefined;
    if (run?.runner?.yields !== 'resumed') return false;
    this.goesOn(run.call, freight);
    return true;
  }

  /** `const [device, setDevice] = useState()`: the setter fills its sibling. */
  private setState(call: Call, freight: Freight): void {
    const { a } = this;
    const decl = call.callee.kind === 'Name' ? a.resolver.declOf(call.callee) : undefined;
    if (decl?.is === 'local' && decl.node.kind === 'Let' && decl.binding?.path[0] === 1) {
      const sibling = decl.node.bindings.find(binding => binding.path[0] === 0);
      const state = sibling && a.resolver.declFor(decl.node, sibling);
      if (state) return this.kept(state, freight, call);
    }
    this.add({ is: 'unknown', at: call });
  }

  /** `connectGatt(…).also { gatt = it }`, `.apply { … }`, or a call on the fresh link whose own value goes on. */
  private calledOn(member: Expr & { kind: 'Member' }, freight: Freight): void {
    const { a } = this;
    const call = a.program.parentOf(member);
    if (call?.kind !== 'Call' || call.callee !== member) return;
    for (const { value } of call.args) {
      const run = runOf(a, call, value);
      if (!run?.runner) continue;
      if (value.kind === 'Lambda') this.scoped(value.fn, run, freight);
      else if (value.kind === 'FnRef' && run.runner.passes?.[0] === 'receiver') for (const fn of a.resolver.functionValue(value) ?? []) this.kept(fn.params[0] && a.resolver.declFor(fn.params[0]), freight, call);
      if (run.runner.yields === 'receiver' || run.runner.yields === 'receiver-or-null') this.goesOn(call, freight);
    }
    // `registry.remove(key)`, `flow.value`: an element of what holds it is followed where it is used (`origins.ts`).
    const extension = a.resolver.calleeOf(call).fns.filter(fn => fn.receiver);
    if (extension.some(fn => fn.body && returnsItself(fn, this.a))) this.goesOn(call, freight);
  }

  private scoped(fn: Fn, run: Run, freight: Freight): void {
    const { a } = this;
    const [param] = fn.params;
    const takes = run.runner?.passes?.[0];
    const decl = takes === 'receiver' || takes === 'element' || takes === 'settled-value' ? param && a.resolver.declFor(param) : undefined;
    if (decl) this.readBy(decl, freight);
    if (run.runner?.self !== 'receiver' || !fn.body) return;
    a.eachBelow(fn.body, node => {
      if (node.kind === 'Class') return 'skip';
      if (node.kind === 'This' && node.of === 'this' && selfLambda(a, node) === fn) this.goesOn(node, freight);
      return undefined;
    });
  }
}

function returnsItself(fn: Fn, a: Analysis): boolean {
  let found = false;
  a.eachBelow(fn.body!, node => {
    if (node.kind === 'Return' && node.value?.kind === 'This') found = true;
    return undefined;
  });
  return found;
}

/** The lambda whose receiver a `this` is. */
function selfLambda(a: Analysis, node: Expr & { kind: 'This' }): Fn | undefined {
  for (let fn = a.program.enclosingFn(node); fn; fn = a.program.enclosingFn(fn)) {
    const run = runOfLambda(a, fn);
    if (!run) return undefined;
    const labels = run.call.callee.kind === 'Member' || run.call.callee.kind === 'Name' ? [run.call.callee.name] : [];
    if (run.runner?.self && (node.label === undefined || labels.includes(node.label))) return fn;
  }
  return undefined;
}

function enclosingChoose(a: Analysis, node: AnyNode): (Expr & { kind: 'Choose' }) | undefined {
  for (let up = a.program.parentOf(node); up; up = a.program.parentOf(up)) {
    if (up.kind === 'Choose') return up;
    if (up.kind === 'Fn') return undefined;
  }
  return undefined;
}

/** `method.invoke(gatt)` of a method looked up under a name that does not close: the hidden `refresh`. */
function isHarmlessReflection(a: Analysis, call: Call): boolean {
  if (a.calleeName(call) !== 'invoke' || call.callee.kind !== 'Member') return false;
  let name: string | undefined;
  const home = a.home(call);
  if (home) {
    a.eachBelow(home, node => {
      const text = node.kind === 'Call' && /^get(?:Declared)?Method$/.test(a.calleeName(node) ?? '') && node.args[0] ? a.resolver.constants.text(node.args[0].value) : undefined;
      if (text !== undefined) name = text;
      return undefined;
    });
  }
  return name !== undefined && !/close|unregister/i.test(name);
}
