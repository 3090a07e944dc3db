/** A completion that is taken for a success without a look at its status; on the web, a failure that reaches nobody. */
import type { StatusUse } from '../../server/effects/status.js';
import type { Unanswered } from '../../server/effects/unanswered.js';
import { rule, type Draft, type Severity } from '../../server/engine/rule.js';
import type { Facts } from '../../server/facts/facts.js';
import { fixesForCallback, fixesForHandler } from './fixes.js';

export const statusUnchecked = rule({
  id: 'status-unchecked',
  title: 'The outcome of the operation is not looked at',
  harm: 'A failed operation is taken for a success: stale or empty values are used and the next step starts on a link that is not ready.',
  severity: 'warning',
  sources: ['android-framework', 'bt-conn-status', 'web-bluetooth-spec'],

  check(facts, report) {
    for (const use of facts.statuses) {
      const draft = ofCallback(facts, use);
      if (draft) report(draft);
    }
    for (const it of facts.unanswered) report(ofHandler(facts, it));
  },
});

// ---- Callbacks ----------------------------------------------------------

function ofCallback(facts: Facts, use: StatusUse): Draft | undefined {
  const severity = gradeOf(facts, use);
  if (!severity) return undefined;
  const from = Math.max(facts.targets.android.minimum, use.member.since ?? 0);
  return {
    at: use.fn.headSpan ?? use.fn.nameSpan ?? use.fn.span, severity, message: `${wrong(use)}. ${consequence(use)}`, apiLevels: { from },
    ...(use.acts && { related: [{ at: use.acts.span, message: 'This happens although the operation may have failed' }] }),
    fixes: use.verdict === 'only-logs' ? [] : fixesForCallback(facts, use),
  };
}

/** Callbacks of a client that deliver something, or after which something begins, are serious. */
function gradeOf(facts: Facts, use: StatusUse): Severity | undefined {
  if (use.verdict === 'looked-at' || use.verdict === 'unknown' || use.verdict === 'empty') return undefined;
  if (use.verdict === 'only-logs' || use.verdict === 'same-outcome' || use.type !== 'BluetoothGattCallback' || facts.isTest || isTolerated(facts, use)) return 'hint';
  switch (use.member.name) {
    case 'onConnectionStateChange': return use.verdict === 'partly' || use.disconnected === 'closes' ? 'hint' : 'warning';
    case 'onMtuChanged': return use.consequence === 'uses-result' ? 'warning' : 'hint';
    case 'onPhyRead': case 'onPhyUpdate': return 'hint';
    default: return 'warning';
  }
}

/** Above the callback, or above the first thing that it does. */
function isTolerated({ code }: Facts, { fn }: StatusUse): boolean {
  const [first] = fn.body?.stmts ?? [];
  return code.isTolerated(fn) || (first !== undefined && code.isTolerated(first));
}

function wrong({ verdict, member: { name } }: StatusUse): string {
  switch (verdict) {
    case 'partly': return `${name} acts on a way on which its status was not compared with GATT_SUCCESS`;
    case 'same-outcome': return `${name} does the same whatever its status says`;
    case 'only-logs': return `${name} never looks at its status`;
    default: return `${name} goes on without a look at its status`;
  }
}

/**
 * What is then taken for what. Sources: `BluetoothGatt` and `BluetoothGattCallback`, AOSP framework; for the connection
 * bta_gattc_act.cc, which reports any failed open as 133, since a change of 2024 a timed-out one as 147; 257 where no
 * client could be registered.
 */
function consequence({ type, member: { name } }: StatusUse): string {
  if (type !== 'BluetoothGattCallback') return 'In every Android version the callback comes for failures too';
  switch (name) {
    case 'onConnectionStateChange': return 'Every failed attempt ends here too: 133 in every Android version (147 for a time-out on newer ones), 257 where no client was left';
    case 'onServicesDiscovered': return 'In every Android version it comes for a failed discovery too, and then the list of services is empty or an old one';
    case 'onMtuChanged': return 'In every Android version it comes for a refused exchange too, and then what it brings is not what the link carries';
    case 'onCharacteristicRead': case 'onDescriptorRead': return 'In every Android version it comes for a failed read too, and then the value is empty or the one before';
    case 'onReadRemoteRssi': return 'In every Android version it comes for a failed request too, and then the figure means nothing';
    default: return 'In every Android version it comes for a failure too, and then nothing has reached the peripheral';
  }
}

// ---- Awaited rejections -------------------------------------------------

function ofHandler(facts: Facts, it: Unanswered): Draft {
  const { callee } = it.call;
  return {
    at: callee.kind === 'Member' ? callee.nameSpan : callee.span, message: unanswered(it),
    ...((facts.isTest || ('deliberate' in it.run && it.run.deliberate)) && { severity: 'hint' as const }),
    related: [
      ...('at' in it.run && it.run.at ? [{ path: facts.code.pathOf(it.run.at), at: it.run.at.span, message: 'This runs it and drops its promise' }] : []),
      ...it.also.slice(0, 3).map(call => ({ at: call.span, message: 'This rejects into the same void' })),
    ],
    fixes: fixesForHandler(facts, it),
  };
}

const FAILS = 'In every browser it rejects when the link is lost, out of reach or busy';

function unanswered({ run }: Unanswered): string {
  switch (run.is) {
    case 'open-chain': return `The chain has a path for success only. ${FAILS}, and then the rejection reaches nobody`;
    case 'tail': return 'When one operation fails, every later one in this tail is refused with its error, without being tried: nothing between them catches';
    case 'executor': return `The promise around this never settles when it fails: nothing in the function catches. ${FAILS}`;
    case 'top-level': return `At the top level of the module nothing can catch this. ${FAILS}, and then the module is not loaded`;
    case 'component': return `${run.name}, which only the component’s template calls, has no catch. ${FAILS}, and then the rejection reaches nobody`;
    case 'statement': return `The function around this is run without waiting and has no catch. ${FAILS}, and then the rejection reaches nobody`;
    default: return `${run.name} runs this and drops its promise, and the function has no catch. ${FAILS}, and then the rejection reaches nobody`;
  }
}
