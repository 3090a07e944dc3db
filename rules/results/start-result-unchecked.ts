/** A call that says whether it was accepted, and nobody listens. */
import type { Drop } from '../../server/effects/use.js';
import type { Start } from '../../server/effects/starts.js';
import { rule, type Draft, type Severity } from '../../server/engine/rule.js';
import type { Facts } from '../../server/facts/facts.js';
import { fixesForFlag, fixesForPromise } from './fixes.js';

export const startResultUnchecked = rule({
  id: 'start-result-unchecked',
  title: 'Nobody looks whether the operation was accepted',
  harm: 'The call answers with a bare false or an error status, or its promise rejects; the code goes on as if it had begun and waits for a completion that never comes.',
  severity: 'warning',
  sources: ['android-framework', 'web-bluetooth-spec'],

  check(facts, report) {
    for (const start of facts.starts) {
      const draft = start.answer === 'promise' ? lostPromise(facts, start) : lostAnswer(facts, start);
      if (draft) report(draft);
    }
  },
});

function placeOf({ call: { callee } }: Start): Draft['at'] {
  return callee.kind === 'Member' ? callee.nameSpan : callee.span;
}

const nameOf = (start: Start): string => start.api.split('.').at(-1)!;

// ---- Promises -----------------------------------------------------------

function lostPromise(facts: Facts, start: Start): Draft | undefined {
  const { promise } = start;
  if (promise?.is !== 'floating' || (promise.chained && !promise.deliberate)) return undefined;
  const name = nameOf(start);
  const meant = promise.deliberate || facts.isTest || facts.code.isTolerated(start.call);
  const message = name === 'reject'
    ? 'The rejected promise is made and thrown away: the function goes on as if nothing had failed'
    : `Nobody awaits, returns or catches the promise of ${name}. It rejects in every browser when the link is lost or another operation is under way, and then the rejection reaches no one`;
  return {
    at: placeOf(start), message, ...(meant && { severity: 'hint' as const }),
    ...(promise.through && { related: [{ path: facts.code.pathOf(promise.through), at: promise.through.span, message: 'This runs it and drops the promise that it yields' }] }),
    fixes: fixesForPromise(facts, start),
  };
}

// ---- Flags and status ints ----------------------------------------------

function lostAnswer(facts: Facts, start: Start): Draft | undefined {
  const severity = gradeOf(facts, start);
  if (!severity || !start.use) return undefined;
  const { use } = start;
  const from = Math.max(facts.targets.android.minimum, start.member?.since ?? 0);
  const at = use.is === 'discarded' || use.is === 'logged' ? use.at : undefined;
  return {
    at: placeOf(start), severity, message: messageFor(start), apiLevels: { from },
    ...(at && { related: [{ at, message: use.is === 'logged' ? 'It is only printed here' : RELATED[use.is === 'discarded' ? use.how : 'statement'] }] }),
    fixes: start.hands || start.hint ? [] : fixesForFlag(facts, start),
  };
}

function gradeOf(facts: Facts, start: Start): Severity | undefined {
  const { use } = start;
  if (!use || start.windingDown) return undefined;
  if (use.is === 'logged') return start.hint || start.hands ? undefined : 'hint';
  if (use.is !== 'discarded' || use.deliberate) return undefined;
  return start.hint || start.hands || facts.isTest || facts.code.isTolerated(start.call) ? 'hint' : 'warning';
}

const RELATED: Record<Drop, string> = {
  'statement': 'It is dropped here',
  'never-read': 'It is kept here',
  'lambda-dropped': 'This runs the lambda and takes no value from it',
  'parameter-ignored': 'This function does not look at it',
  'absence-only': 'Only this is asked',
  'miscompared': 'It is compared with this',
};

function messageFor(start: Start): string {
  const name = nameOf(start);
  const answer = start.answer === 'accept-status' ? 'status' : 'boolean';
  if (start.hands) return `${name} hands on whether the operation was accepted, and nobody takes it here`;
  if (start.hint) return `${name} says with its ${answer} whether it was accepted, and nobody looks`;
  const lost = start.use?.is === 'discarded' ? LOST[start.use.how](answer, name) : `The ${answer} of ${name} is only logged`;
  return `${lost}. ${consequence(start)}`;
}

const LOST: Record<Drop, (answer: string, name: string) => string> = {
  'statement': (answer, name) => `The ${answer} with which ${name} says that it was accepted is dropped`,
  'never-read': (answer, name) => `The ${answer} of ${name} is kept in a name that nobody reads`,
  'lambda-dropped': (answer, name) => `The ${answer} of ${name} is the value of a lambda that nobody takes`,
  'parameter-ignored': (answer, name) => `The ${answer} of ${name} is handed to a function that ignores it`,
  'absence-only': (answer, name) => `The ${answer} of ${name} is only asked whether it is there, not what it says`,
  'miscompared': (answer, name) => `The ${answer} of ${name} is compared with a value of another type, which it never equals`,
};

/**
 * When it is refused, and what is then missing. Source: `BluetoothGatt`, AOSP framework: `mDeviceBusy` makes reads and
 * writes answer false; `BluetoothStatusCodes` 201 is ERROR_GATT_WRITE_REQUEST_BUSY, 200 ERROR_GATT_WRITE_NOT_ALLOWED,
 * 9 ERROR_PROFILE_SERVICE_NOT_BOUND.
 */
function consequence({ member, answer }: Start): string {
  const [callback] = member?.completedBy ?? [];
  const missing = callback ? `${callback} never comes` : member?.does?.includes('subscribes') ? 'no value ever arrives' : 'nothing follows';
  if (answer === 'accept-status') return `On Android 13 and later it is 201 while another operation is under way, 200 if the attribute may not be written, 9 without a link; then ${missing}`;
  if (member?.slot === 'guarded') return `In every Android version it is false while another operation of this client is under way, without the property or without a link; then ${missing}`;
  return `In every Android version it is false without a link or when the client is closed; then ${missing}`;
}
