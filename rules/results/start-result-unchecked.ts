/** A call that says whether it was accepted, and nobody listens. */
import { rule, type Severity } from '../../server/engine/rule.js';
import type { Start } from '../../server/effects/starts.js';

export const startResultUnchecked = rule({
  id: 'start-result-unchecked',
  title: 'Nobody looks whether the operation was accepted',
  harm: 'The call answers with a bare false or an error status, or its promise rejects; the code goes on as if it had begun and waits for a completion that never comes.',
  severity: 'warning',
  sources: ['android-accept-results', 'web-bluetooth-promises'],

  check(facts, report) {
    for (const start of facts.starts) {
      const lost = start.answer === 'promise' ? lostPromise(start) : lostAnswer(start);
      if (!lost) continue;
      const name = start.api.split('.').at(-1)!;
      const { callee } = start.call;
      report({ at: callee.kind === 'Member' ? callee.nameSpan : callee.span, severity: lost.severity, message: lost.message(name) });
    }
  },
});

interface Lost { readonly severity: Severity; readonly message: (name: string) => string }

function lostPromise(start: Start): Lost | undefined {
  if (start.promise?.is !== 'floating' || start.promise.deliberate || start.promise.chained) return undefined;
  return {
    severity: 'warning',
    message: name => `Nobody awaits, returns or catches the promise of ${name}: when the operation fails, the rejection reaches no one`,
  };
}

function lostAnswer(start: Start): Lost | undefined {
  const { use } = start;
  if (!use || start.windingDown) return undefined;
  const answer = start.answer === 'accept-status' ? 'status' : 'boolean';
  if (start.hands) {
    if (use.is !== 'discarded' || use.deliberate) return undefined;
    return { severity: 'hint', message: name => `${name} hands on whether the operation was accepted, and nobody takes it here` };
  }
  if (use.is === 'logged') {
    return start.hint ? undefined : { severity: 'hint', message: name => `The ${answer} of ${name} is only logged: when the start is refused, no completion comes and nothing goes on` };
  }
  if (use.is !== 'discarded' || use.deliberate) return undefined;
  if (start.hint) return { severity: 'hint', message: name => `${name} says with its ${answer} whether it was accepted, and nobody looks` };
  const message = {
    'statement': (name: string) => `The ${answer} with which ${name} says that it was accepted is dropped`,
    'lambda-dropped': (name: string) => `The ${answer} of ${name} is the value of a lambda that nobody takes`,
    'never-read': (name: string) => `The ${answer} of ${name} is kept in a name that nobody reads`,
    'parameter-ignored': (name: string) => `The ${answer} of ${name} is handed to a function that ignores it`,
    'absence-only': (name: string) => `The ${answer} of ${name} is only asked whether it is there, not what it says`,
    'miscompared': (name: string) => `The ${answer} of ${name} is compared with a value of another type, which it never equals`,
  }[use.how];
  return { severity: 'warning', message: name => `${message(name)}: when the start is refused, no completion will come` };
}
