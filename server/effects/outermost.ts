/**
 * Who runs a function and drops the promise that it yields: an event, a framework's hook, a timer, a statement. Above such
 * a function nobody can catch. A function whose runner is not known has none.
 */
import type { AnyNode, Block, Call, Expr, Fn } from '../ir/ir.js';
import type { Analysis } from './analysis.js';
import { isComponentAction } from './components.js';
import { takenOut } from './hooks.js';
import { listenedEvent } from './operations.js';
import { promiseUse } from './rejections.js';
import { runOf, type Run } from './runs.js';
import { lifecycleFor } from './ways.js';

export interface Outermost {
  readonly is: 'event' | 'lifecycle' | 'top-level' | 'component' | 'executor' | 'statement' | 'chain';
  /** The event, hook or function, as code writes it; empty for the top level. */
  readonly name: string;
  /** Where it is handed over. */
  readonly at?: AnyNode;
  /** `void run()`: thrown away on purpose. */
  readonly deliberate?: true;
}

export function outermost(a: Analysis, home: Fn | Block): Outermost | undefined {
  return a.once<Fn | Block, Outermost | undefined>('outermost', home, undefined, () => {
    if (home.kind === 'Block') return { is: 'top-level', name: '' };
    const holder = a.program.parentOf(home);
    if (holder?.kind === 'Lambda') return dropsPromise(a, holder);
    const lifecycle = lifecycleFor(a, home);
    if (lifecycle && isHook(a, home)) return { is: 'lifecycle', name: lifecycle.name };
    const event = listenedEvent(a, home);
    if (event !== undefined) return { is: 'event', name: event };
    for (const use of a.resolver.referencesTo(home)) {
      const out = use.kind === 'Call' ? undefined : dropsPromise(a, use);
      if (out) return { ...out, name: out.name || home.name! };
    }
    return isComponentAction(a, home) ? { is: 'component', name: home.name! } : undefined;
  });
}

/** Words that frameworks share with everybody: a hook only among a component's options, or in a decorated class. */
const COMMON_WORDS = /^(?:created|mounted|destroyed|activated|deactivated|unmounted|beforeMount|beforeUnmount|beforeDestroy)$/;

function isHook(a: Analysis, fn: Fn): boolean {
  if (!COMMON_WORDS.test(fn.name ?? '')) return true;
  const owner = a.program.ownerOf(fn);
  return owner?.form === 'anonymous' || (owner?.annotations.length ?? 0) > 0;
}

/** What drops the promise of a function value at the place where it stands: the lambda itself, or a name for it. */
export function dropsPromise(a: Analysis, value: Expr): Outermost | undefined {
  return a.once<Expr, Outermost | undefined>('drops-promise', value, undefined, () => {
    const place = same(a, value);
    const parent = a.program.parentOf(place);
    switch (parent?.kind) {
      case 'Call': return parent.callee === place ? called(a, parent, place) : given(a, parent, place);
      case 'Assign': return parent.value === place ? assigned(a, parent, place) : undefined;
      case 'Field': return asField(a, parent, place);
      case 'Let': return asLocal(a, parent);
      case 'Template': return inMarkupText(a, parent, place);
      default: return undefined;
    }
  });
}

/** The widest expression that is the same function: `f.bind(this)`, `useCallback(f)`, `f as Handler`, an arm of a choice. */
function same(a: Analysis, value: Expr): Expr {
  for (let at = value; ;) {
    const parent = a.program.parentOf(at);
    if (parent?.kind === 'Cast' || (parent?.kind === 'Unary' && parent.op === '!!')) at = parent;
    else if (parent?.kind === 'Binary' && (parent.op === '??' || parent.op === '||' || (parent.op === '&&' && parent.right === at))) at = parent;
    else if (parent?.kind === 'Member' && parent.object === at && parent.name === 'bind') {
      const call = a.program.parentOf(parent);
      if (call?.kind !== 'Call') return at;
      at = call;
    } else if (parent?.kind === 'Call' && parent.callee !== at && runOf(a, parent, at)?.runner?.yields === 'first-argument') at = parent;
    else if (parent?.kind === 'Yield') {
      const choose = chooseAround(a, parent);
      if (!choose) return at;
      at = choose;
    } else return at;
  }
}

function chooseAround(a: Analysis, node: AnyNode): Expr | undefined {
  for (let up = a.program.parentOf(node); up && up.kind !== 'Fn'; up = a.program.parentOf(up)) if (up.kind === 'Choose') return up;
  return undefined;
}

/** `(async () => { … })()`: its promise is the call's. A name that is called has its failure at the call. */
function called(a: Analysis, call: Call, callee: Expr): Outermost | undefined {
  if (callee.kind !== 'Lambda') return undefined;
  const use = promiseUse(a, call);
  if (use.is !== 'floating') return undefined;
  return { is: 'statement', name: callee.fn.name ?? '', at: call, ...(use.deliberate && { deliberate: true as const }) };
}

/** An argument. */
function given(a: Analysis, call: Call, value: Expr): Outermost | undefined {
  const run = runOf(a, call, value);
  if (run && !run.through) return byRunner(a, call, run);
  if (takesNothing(a, value)) return { is: 'event', name: a.calleeName(call) ?? 'handler', at: call };
  return run?.through ? byFunction(a, call, run.through.param) : undefined;
}

function byRunner(a: Analysis, call: Call, run: Run): Outermost | undefined {
  const name = eventName(a, call);
  if (run.value === 'dropped') {
    if (run.runner?.waits === 'resume') return { is: 'executor', name: 'Promise', at: call };
    return { is: 'event', name, at: call };
  }
  if (run.value !== 'collected' && run.value !== 'awaited' && run.value !== 'yielded') return undefined;
  const use = promiseUse(a, call);
  if (use.is !== 'floating') return undefined;
  return { is: run.runner?.yields === 'promise-of-lambda' ? 'chain' : 'event', name, at: call, ...(use.deliberate && { deliberate: true as const }) };
}

/** A function of the project that runs it and drops what comes. */
function byFunction(a: Analysis, call: Call, param: Fn['params'][number]): Outermost | undefined {
  const decl = a.resolver.declFor(param);
  const uses = (decl ? a.resolver.readsOf(decl) : []).map(read => {
    const up = a.program.parentOf(read);
    if (up?.kind === 'Call' && up.callee === read) return promiseUse(a, up).is === 'floating';
    return dropsPromise(a, read) !== undefined;
  });
  return uses.length > 0 && uses.every(dropped => dropped) ? { is: 'event', name: a.calleeName(call) ?? 'handler', at: call } : undefined;
}

/** The place wants a function that yields nothing: whoever runs it there has no promise to wait for. */
function takesNothing(a: Analysis, value: Expr): boolean {
  return a.fileOf(value)?.language === 'typescript' && a.resolver.wantedFunction(value)?.result?.name === 'void';
}

const HANDLER_PROPERTY = /^on[a-z]+$/;

function assigned(a: Analysis, assign: AnyNode & { kind: 'Assign' }, value: Expr): Outermost | undefined {
  const { target } = assign;
  if (target.kind !== 'Member' && target.kind !== 'Name') return undefined;
  const decl = a.resolver.declOf(target);
  if (HANDLER_PROPERTY.test(target.name) && (decl === undefined || decl.is === 'platform')) return { is: 'event', name: target.name, at: assign };
  if (takesNothing(a, value)) return { is: 'event', name: target.name, at: assign };
  return decl && byReads(a, a.resolver.readsOf(decl), target.name);
}

/** `<button onClick={…}>`, a class field, a property of a typed object. */
function asField(a: Analysis, field: AnyNode & { kind: 'Field' }, value: Expr): Outermost | undefined {
  const tag = tagOf(a, field);
  if (tag !== undefined) return isEventOf(a, tag, field.name, value) ? { is: 'event', name: field.name, at: field } : undefined;
  const owner = a.program.ownerOf(field);
  if (owner?.form === 'anonymous') return takesNothing(a, value) ? { is: 'event', name: field.name, at: field } : byReads(a, takenOut(a, field), field.name);
  const decl = a.resolver.declFor(field);
  const out = decl && byReads(a, a.resolver.readsOf(decl), field.name);
  return out ?? (value.kind === 'Lambda' && isComponentAction(a, value.fn, field) ? { is: 'component', name: field.name } : undefined);
}

function asLocal(a: Analysis, stmt: AnyNode & { kind: 'Let' }): Outermost | undefined {
  const [binding] = stmt.bindings;
  const decl = binding && a.resolver.declFor(stmt, binding);
  if (!decl || stmt.bindings.length !== 1) return undefined;
  const out = byReads(a, a.resolver.readsOf(decl), binding.name);
  const value = stmt.value;
  return out ?? (value?.kind === 'Lambda' && isComponentAction(a, value.fn, stmt) ? { is: 'component', name: binding.name } : undefined);
}

function byReads(a: Analysis, reads: readonly Expr[], name: string): Outermost | undefined {
  for (const read of reads) {
    const out = dropsPromise(a, read);
    if (out) return { ...out, name: out.name || name };
  }
  return undefined;
}

/** The element or component that an attribute stands at. */
function tagOf(a: Analysis, field: AnyNode & { kind: 'Field' }): string | undefined {
  const cls = a.program.ownerOf(field);
  const object = cls && a.program.parentOf(cls);
  const call = object && a.program.parentOf(object);
  return call?.kind === 'Call' && call.markup ? a.calleeName(call) ?? '' : undefined;
}

/** Events that a component hands on to the element inside of it under the element's own name. Source: HTML, React. */
const ELEMENT_EVENTS = /^on(?:Click|DoubleClick|Press|PressIn|PressOut|LongPress|Change|Input|Submit|Select|Toggle|Key(?:Down|Up|Press)|Mouse(?:Down|Up|Enter|Leave)|Pointer(?:Down|Up)|Touch(?:Start|End)|Focus|Blur|Load|Tap)(?:Capture)?$/;

/** An element's event drops what its listener yields; of a component's property its type tells, or its name. */
function isEventOf(a: Analysis, tag: string, name: string, value: Expr): boolean {
  if (!/^on[A-Z:]?\w*$/.test(name)) return false;
  if (/^[a-z]/.test(tag)) return true;
  const wanted = a.resolver.wantedFunction(value)?.result?.name;
  return wanted === undefined || wanted === 'any' ? ELEMENT_EVENTS.test(name) : wanted === 'void';
}

/** Lit's `html` with `@click=${this.read}`: the text before the hole ends with the event. */
function inMarkupText(a: Analysis, template: AnyNode & { kind: 'Template' }, value: Expr): Outermost | undefined {
  const tag = a.program.parentOf(template);
  if (tag?.kind !== 'Call' || a.calleeName(tag) !== 'html') return undefined;
  const before = template.parts[template.parts.indexOf(value) - 1];
  const event = before?.kind === 'Literal' && typeof before.value === 'string' ? /@([\w-]+)=["']?$/.exec(before.value)?.[1] : undefined;
  return event === undefined ? undefined : { is: 'event', name: event, at: template };
}

function eventName(a: Analysis, call: Call): string {
  const text = call.args[0] && a.resolver.constants.text(call.args[0].value);
  return text ?? a.calleeName(call) ?? 'handler';
}
