/**
 * What one call does, in the catalogue's and the profile's words, and which calls only tell somebody about it. A call
 * whose target is not known has no role.
 */
import type { Call, Expr, Fn } from '../ir/ir.js';
import { walk } from '../ir/walk.js';
import type { Answer, Does, PlatformMember, Slot } from '../catalogue/types.js';
import type { Analysis } from './analysis.js';
import { namesWithRole } from './role-names.js';

export interface Role {
  readonly call: Call;
  /** Catalogue type and member (`BluetoothGatt.writeCharacteristic`), or the project's own name from its profile. */
  readonly api: string;
  readonly member?: PlatformMember;
  readonly owner?: string;
  readonly does: ReadonlySet<Does>;
  readonly answer: Answer;
  readonly slot: Slot;
}

export function roleOf(a: Analysis, call: Call): Role | undefined {
  return a.once('role', call, undefined, () => {
    const name = a.calleeName(call);
    if (name === undefined || !mayHaveRole(a, name)) return undefined;
    const callee = a.resolver.calleeOf(call);
    if (callee.fns.length > 0) return wrapperRole(a, call, callee.fns);
    const [member] = callee.members;
    if (!member?.does || !callee.owner) return undefined;
    return {
      call, api: `${callee.owner}.${member.name}`, member, owner: callee.owner, does: actual(a, call, member),
      answer: member.answer ?? 'none', slot: member.slot ?? 'none',
    };
  });
}

/** Names first: most calls of a program are of no interest, and resolving one costs more than looking its name up. */
function mayHaveRole(a: Analysis, name: string): boolean {
  return a.once<string, boolean>('may-have-role', name, false, () =>
    namesWithRole().has(name) || [...a.words.wrappers.keys()].some(wrapper => wrapper.split('.').at(-1) === name));
}

function wrapperRole(a: Analysis, call: Call, fns: readonly Fn[]): Role | undefined {
  for (const fn of fns) {
    const name = a.nameIn(a.words.wrappers, fn);
    const does = name !== undefined && a.words.wrappers.get(name);
    if (name === undefined || !does) continue;
    const starts = does.includes('starts-operation');
    return { call, api: name, does: new Set(does), answer: 'none', slot: starts ? 'guarded' : 'none' };
  }
  return undefined;
}

/** `setCharacteristicNotification(c, false)` gives a registration back; with a value that is not known it may do either. */
function actual(a: Analysis, call: Call, member: PlatformMember): ReadonlySet<Does> {
  const does = new Set(member.does);
  const at = member.params?.findIndex(p => p.is === 'enable') ?? -1;
  const enable = at >= 0 ? argumentAt(call, member, at) : undefined;
  if (!enable) return does;
  const value = a.resolver.constants.bool(enable);
  if (value === true) does.delete('unsubscribes');
  if (value === false) does.delete('subscribes');
  return does;
}

/** The argument for a catalogue member's parameter, by name or position. */
export function argumentAt(call: Call, member: PlatformMember, at: number): Expr | undefined {
  const name = member.params?.[at]?.name;
  const named = call.args.find(arg => arg.name !== undefined && arg.name === name);
  if (named) return named.value;
  const arg = call.args[at];
  return arg && arg.name === undefined && !call.args.slice(0, at + 1).some(x => x.spread) ? arg.value : undefined;
}

/** Names of logging objects and their verbs. common practice, no source */
const LOGGERS = /^(?:timber|console|napier|lumber|out|err|crashlytics)$|log(?:ger|ging|cat|s|utils?|helper|tool|manager)?$/i;
const NO_LOGGERS = /(?:dia|cata|ana|back|b|pro|epi)log(?:s|ger)?$/i;
const VERBS = /^(?:v|d|i|w|e|wtf|log|debug|info|warn|warning|error|trace|verbose|println|print|printf|group|groupEnd|table|assert|severe|fine)$/;
/** Verbs that mean nothing but a log, whatever keeps it. `error` is none: that is how a failure is answered, too. common practice, no source */
const TELLS = /^(?:debug|info|warn|warning|verbose|wtf)$/;
/** Bare functions that print, or write a line of a log of the app's own. common practice, no source */
const PRINTERS = /^(?:println|print|printf|logcat|(?:add|append|print|write|show)?_?[lL]og(?:[dievw]|[A-Z_]\w*|s)?)$/;

/** A call that only tells: a logger, a printer, or a function of the project that does nothing but call those. */
export function isLogCall(a: Analysis, call: Call): boolean {
  return a.once('log', call, false, () => {
    const { callee } = call;
    const targets = a.resolver.calleeOf(call).fns;
    if (targets.length > 0) return targets.every(fn => onlyLogs(a, fn) || writesLog(a, fn));
    if (callee.kind === 'Name') return isPrinter(callee.name);
    if (callee.kind !== 'Member') return false;
    const object = lastName(callee.object);
    if (TELLS.test(callee.name) && a.resolver.calleeOf(call).members.length === 0) return true;
    return object !== undefined && LOGGERS.test(object) && !NO_LOGGERS.test(object) && VERBS.test(callee.name);
  });
}

const isPrinter = (name: string): boolean => (PRINTERS.test(name) || TELLS.test(name)) && !/assert/i.test(name);

/** A line for a log that the app keeps or shows itself: named so, and given texts alone. */
function writesLog(a: Analysis, fn: Fn): boolean {
  const types = fn.params.map(param => a.resolver.typeOfParam(param)?.name);
  return fn.name !== undefined && isPrinter(fn.name) && types.length > 0 && types.every(type => type === 'string' || type === 'Throwable' || type === 'any');
}

function lastName(expr: Expr): string | undefined {
  if (expr.kind === 'Name' || expr.kind === 'Member') return expr.name;
  if (expr.kind === 'Call') return expr.callee.kind === 'Member' || expr.callee.kind === 'Name' ? lastName(expr.callee.kind === 'Member' ? expr.callee.object : expr.callee) : undefined;
  return undefined;
}

/** Conversions that a log helper may call on its way. common practice, no source */
const TEXT_HELPERS = /^(?:to[A-Z]\w*|joinTo\w*|format|trim\w*|lowercase|uppercase|getSimpleName|stringify|padStart|padEnd|slice|substring|take|map)$/;

function onlyLogs(a: Analysis, fn: Fn): boolean {
  return a.once('only-logs', fn, false, () => {
    if (!fn.body) return false;
    let logs = false;
    let acts = false;
    walk(fn.body, node => {
      if (node.kind === 'Assign' && (node.target.kind !== 'Name' || a.resolver.declOf(node.target)?.is !== 'local')) acts = true;
      if (node.kind !== 'Call') return;
      if (isLogCall(a, node)) logs = true;
      else if (!TEXT_HELPERS.test(a.calleeName(node) ?? '')) acts = true;
    });
    return logs && !acts;
  });
}
