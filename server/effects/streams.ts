/**
 * Streams: events that come one after the other, as fast as a finger, a sensor or the other side of the link, each with a
 * value that is written on. An operation for every value meets the one before.
 *
 * The value must get from the event into the operation. A value that is first compared with a constant is a protocol's
 * answer, not a stream, and one that has been slowed down comes when the link is idle, or not: neither is certain.
 */
import type { AnyNode, Call, Expr, Fn } from '../ir/ir.js';
import { unguarded } from '../flow/paths.js';
import type { Edge } from '../flow/graph.js';
import type { Decl } from '../resolve/api.js';
import type { Analysis } from './analysis.js';
import { listenedEvent } from './operations.js';
import { matchesOne } from './guards.js';
import { argumentAt, roleOf } from './roles.js';
import { waysTo, type Way } from './ways.js';

/** Functions that deliver one value after the other to what they are given. common practice, no source */
const DELIVERING = /^(?:observe|observeForever|observeAsState|collect|collectLatest|collectIndexed|onEach|subscribe|doOnNext|tap|takeEvery|addOnChangeListener|setOnTouchListener|addTextChangedListener|doOnTextChanged|doAfterTextChanged|onSnapshot|registerListener)$/;
/** Overrides and named arguments by which interfaces tell of each value. common practice, no source */
const TOLD = /^(?:onProgressChanged|onSensorChanged|onLocationChanged|onValueChange|onColorChange[d]?|onColorSelected|onColorPicked|onTouch|onTouchEvent|onScroll|onDrag|onMove|onTextChanged|afterTextChanged|onInput|onPointerMove|onMouseMove|onTouchMove)$/;
/** Events of the web platform that repeat while something moves or sends. HTML, UI Events, Pointer Events, Web Bluetooth */
const EVENTS = new Set(['characteristicvaluechanged', 'input', 'pointermove', 'mousemove', 'touchmove', 'scroll', 'wheel', 'drag', 'message', 'devicemotion', 'deviceorientation', 'midimessage']);
/** Operators that let only some values through, or each after a pause. common practice, no source */
const SLOWING = /^(?:debounce\w*|throttle\w*|sample\w*|audit\w*|buffer\w*|distinctUntilChanged\w*|first|take|takeUntil|conflate)$/;
const TIMED = /^(?:postDelayed|postAtTime|schedule|setTimeout|delay|sleep)$/;

export interface Stream {
  /** How to call it in a message. */
  readonly name: string;
  /** Whether each value surely leads to an operation of its own. */
  readonly certain: boolean;
}

/** The stream that a way begins with, when its values reach the operation at the way's end. */
export function streamOf(a: Analysis, op: Call, way: Way): Stream | undefined {
  const name = nameOf(a, way);
  const handler = way.fns.at(-1);
  if (name === undefined || !handler || !carries(a, op, way, handler)) return undefined;
  return { name, certain: !isSlowed(a, way) && !isAnswer(a, op, way) && !isChosen(a, way) };
}

function nameOf(a: Analysis, { start }: Way): string | undefined {
  switch (start.is) {
    case 'callback': return TOLD.test(start.member.name) ? start.member.name : undefined;
    case 'event': {
      const name = a.calleeName(start.run.call) ?? '';
      if (name === 'addEventListener' || name === 'fromEvent') return eventOf(a, start.run.call, name === 'fromEvent' ? 1 : 0);
      const told = start.name ?? start.fn.name;
      return DELIVERING.test(name) ? name : told !== undefined && TOLD.test(told) ? told : undefined;
    }
    case 'outside': {
      const { given, fn } = start;
      const told = given?.name ?? fn?.name;
      if (told !== undefined && TOLD.test(told)) return told;
      if (given && isSlider(a, given.call) && given.name === 'onChange') return given.name;
      if (given && DELIVERING.test(a.calleeName(given.call) ?? '')) return a.calleeName(given.call);
      const assigned = fn && handlerProperty(a, fn);
      return assigned ?? (fn && listened(a, fn));
    }
    case 'lifecycle': return undefined;
    default: return undefined;
  }
}

function eventOf(a: Analysis, call: Call, at: number): string | undefined {
  const event = call.args[at] && a.resolver.constants.text(call.args[at].value);
  return event !== undefined && EVENTS.has(event) ? event : undefined;
}

function listened(a: Analysis, fn: Fn): string | undefined {
  const event = listenedEvent(a, fn);
  return event !== undefined && EVENTS.has(event) ? event : undefined;
}

/** What is listened to: `slider.oninput = () => write(slider.value)` needs no event. */
function sourceOf(a: Analysis, handler: Fn): readonly Decl[] {
  const lambda = a.program.parentOf(handler);
  const use = lambda && a.program.parentOf(lambda);
  const member = use?.kind === 'Assign' ? use.target : use?.kind === 'Call' ? use.callee : undefined;
  const source = member?.kind === 'Member' ? member.object : undefined;
  const decl = source?.kind === 'Name' || source?.kind === 'Member' ? a.resolver.declOf(source) : undefined;
  return decl ? [decl] : [];
}

/** `slider.oninput = …` */
function handlerProperty(a: Analysis, fn: Fn): string | undefined {
  const lambda = a.program.parentOf(fn);
  const assign = lambda?.kind === 'Lambda' ? a.program.parentOf(lambda) : undefined;
  const name = assign?.kind === 'Assign' && assign.target.kind === 'Member' ? assign.target.name : undefined;
  return name !== undefined && name.startsWith('on') && EVENTS.has(name.slice(2)) ? name : undefined;
}

/** `<input type="range">`, `<Slider>`: their change comes with each move. */
function isSlider(a: Analysis, call: Call): boolean {
  const tag = a.calleeName(call) ?? '';
  if (/slider|range|colou?rpicker|joystick|knob/i.test(tag)) return true;
  const attributes = call.args[0]?.value;
  const type = attributes?.kind === 'ObjectExpr' ? attributes.body.fields.find(field => field.name === 'type')?.initial : undefined;
  const text = type && a.resolver.constants.text(type);
  return text === 'range' || text === 'color';
}

// ---- Whether the value arrives ------------------------------------------

/** Whether something that the handler is given gets into the calls on the way, and from there into the operation. */
function carries(a: Analysis, op: Call, way: Way, handler: Fn): boolean {
  const chain = [op, ...way.calls];
  const tainted = new Set<Decl>([...paramsOf(a, handler), ...sourceOf(a, handler)]);
  const own = a.program.enclosingFn(op);
  for (const call of [...chain].reverse()) {
    spread(a, a.program.enclosingFn(call), tainted);
    if (call === op) break;
    for (const fn of a.resolver.calleeOf(call).fns) {
      for (const param of fn.params) {
        const argument = a.resolver.argumentFor(call, fn, param);
        const decl = a.resolver.declFor(param);
        if (argument && decl && mentions(a, argument, tainted)) tainted.add(decl);
      }
    }
  }
  if (payloadsOf(a, op).some(payload => mentions(a, payload, tainted))) return true;
  // Before Android 13 the value is put into the characteristic first.
  return own?.body !== undefined && setsValue(a, own, tainted);
}

/** What an operation sends; the attribute that it is sent to is another matter. */
function payloadsOf(a: Analysis, op: Call): readonly Expr[] {
  const member = roleOf(a, op)?.member;
  return (member?.params ?? []).flatMap((param, i) => (param.is === 'payload' ? argumentAt(op, member!, i) ?? [] : []));
}

function paramsOf(a: Analysis, fn: Fn): readonly Decl[] {
  return fn.params.flatMap(param => (param.pattern ? param.pattern.flatMap(binding => a.resolver.declFor(param, binding) ?? []) : a.resolver.declFor(param) ?? []));
}

/** What is computed from a tainted value in a function is tainted, fields that it is put in included. */
function spread(a: Analysis, fn: Fn | undefined, tainted: Set<Decl>): void {
  if (!fn?.body) return;
  for (let before = -1; before !== tainted.size;) {
    before = tainted.size;
    a.eachBelow(fn.body, node => {
      if (node.kind === 'Let' && node.value && mentions(a, node.value, tainted)) {
        for (const binding of node.bindings) add(a.resolver.declFor(node, binding), tainted);
      }
      if (node.kind === 'Assign' && (node.target.kind === 'Name' || node.target.kind === 'Member') && mentions(a, node.value, tainted)) add(a.resolver.declOf(node.target), tainted);
      return undefined;
    });
  }
}

function add(decl: Decl | undefined, tainted: Set<Decl>): void {
  if (decl && decl.is !== 'platform') tainted.add(decl);
}

function mentions(a: Analysis, expr: Expr, tainted: ReadonlySet<Decl>): boolean {
  let found = false;
  a.eachBelow(expr, node => {
    if (node.kind === 'Name' || node.kind === 'Member') {
      const decl = a.resolver.declOf(node);
      if (decl && tainted.has(decl)) found = true;
    }
    return found ? 'skip' : undefined;
  });
  return found;
}

function setsValue(a: Analysis, fn: Fn, tainted: ReadonlySet<Decl>): boolean {
  let found = false;
  a.eachBelow(fn.body!, (node: AnyNode) => {
    if (node.kind === 'Assign' && node.target.kind === 'Member' && node.target.name === 'value' && mentions(a, node.value, tainted)) found = true;
    if (node.kind === 'Call' && a.calleeName(node) === 'setValue' && node.args.some(arg => mentions(a, arg.value, tainted))) found = true;
    return found ? 'skip' : undefined;
  });
  return found;
}

// ---- Whether it comes every time ----------------------------------------

function isSlowed(a: Analysis, way: Way): boolean {
  const { start } = way;
  const source = start.is === 'event' ? start.run.call : start.is === 'outside' ? start.given?.call : undefined;
  for (let at: Expr | undefined = source; at?.kind === 'Call' && at.callee.kind === 'Member'; at = at.callee.object) {
    if (SLOWING.test(at.callee.name) || at.args.some(arg => mentionsOperator(a, arg.value))) return true;
  }
  // A lambda on the way that a timer runs.
  return way.fns.some(fn => {
    const lambda = a.program.parentOf(fn);
    const holder = lambda?.kind === 'Lambda' ? lambda : lambda?.kind === 'Class' ? a.program.parentOf(lambda) : undefined;
    const call = holder && a.program.parentOf(holder);
    return call?.kind === 'Call' && call.callee !== holder && TIMED.test(a.calleeName(call) ?? '');
  });
}

/** Handlers of choices, which come one at a time. common practice, no source */
const CHOICES = /click|select|check|menu|toggle|submit|switch/i;

/** Whether what is observed is set only where somebody chooses something; what the link itself reports is no choice. */
function isChosen(a: Analysis, { start }: Way): boolean {
  const source = start.is === 'event' && start.run.call.callee.kind === 'Member' ? start.run.call.callee.object : undefined;
  const decl = source?.kind === 'Name' || source?.kind === 'Member' ? a.resolver.declOf(source) : undefined;
  const starts = decl?.is === 'field' ? settersOf(a, decl).flatMap(set => waysTo(a, set)).map(way => way.start).filter(each => each.is !== 'callback') : [];
  return starts.length > 0 && starts.every(each => CHOICES.test(each.is === 'event' ? a.calleeName(each.run.call) ?? '' : each.is === 'outside' ? each.fn?.name ?? '' : ''));
}

function settersOf(a: Analysis, decl: Decl): readonly Expr[] {
  return a.resolver.readsOf(decl).flatMap((read): readonly Expr[] => {
    const member = a.program.parentOf(read);
    const use = member?.kind === 'Member' && member.object === read ? a.program.parentOf(member) : undefined;
    if (member?.kind !== 'Member' || !use) return [];
    if (use.kind === 'Call' && use.callee === member && /^(?:postValue|setValue|emit|tryEmit|update|next)$/.test(member.name)) return [use];
    return use.kind === 'Assign' && use.target === member && member.name === 'value' ? [use] : [];
  });
}

/** `pipe(debounceTime(200), …)`. */
function mentionsOperator(a: Analysis, expr: Expr): boolean {
  return expr.kind === 'Call' && SLOWING.test(a.calleeName(expr) ?? '');
}

/** Whether on the way the value is singled out by a constant: a protocol's step, not every value. */
function isAnswer(a: Analysis, op: Call, way: Way): boolean {
  return [op, ...way.calls].some(call => {
    const at = a.stepsOf(call);
    const gate = (edge: Edge): boolean => edge.when !== undefined && matchesOne(a, edge.when);
    return at !== undefined && at.steps.length > 0 && at.steps.every(step => unguarded(at.graph, step, { edge: gate }) === undefined);
  });
}
