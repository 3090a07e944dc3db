/** Finds the calls of a program that the catalogue knows a role for, by name first and then by what they resolve to. */
import type { Call, Expr, Fn } from '../ir/ir.js';
import type { Does } from '../catalogue/types.js';
import type { Analysis } from './analysis.js';
import { namesWithRole } from './role-names.js';
import { roleOf } from './roles.js';

/** Every call in the program that does one of these. */
export function callsDoing(a: Analysis, does: Does): readonly Call[] {
  return a.once<Does, readonly Call[]>('calls-doing', does, [], () => {
    const names = new Set([...namesWithRole(does), ...wrapperNames(a, does)]);
    return [...names].flatMap(name => a.program.callsNamed(name)).filter(call => roleOf(a, call)?.does.has(does));
  });
}

function wrapperNames(a: Analysis, does: Does): readonly string[] {
  return [...a.words.wrappers].filter(([, words]) => words.includes(does)).map(([name]) => name.split('.').at(-1)!);
}

/** The event that a function is registered for: `target.addEventListener('event', this.fn)`. */
export function listenedEvent(a: Analysis, fn: Fn): string | undefined {
  return a.once<Fn, string | undefined>('listened-event', fn, undefined, () => {
    for (const use of a.resolver.referencesTo(fn)) {
      const registration = registrationOf(a, use);
      const event = registration?.args[0] && a.resolver.constants.text(registration.args[0].value);
      if (event !== undefined) return event;
    }
    return undefined;
  });
}

/** The `addEventListener` call that a reference is handed to, directly, bound, or through `oncharacteristicvaluechanged`. */
function registrationOf(a: Analysis, use: Expr): Call | undefined {
  const parent = a.program.parentOf(use);
  if (parent?.kind === 'Call' && parent.callee !== use) return a.calleeName(parent) === 'addEventListener' ? parent : undefined;
  const bound = parent?.kind === 'Member' && parent.name === 'bind' ? a.program.parentOf(parent) : undefined;
  return bound?.kind === 'Call' ? registrationOf(a, bound) : undefined;
}
