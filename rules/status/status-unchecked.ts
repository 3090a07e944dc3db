/** A completion that is taken for a success without a look at its status; on the web, a failure that reaches nobody. */
import { rule, type Draft, type Severity } from '../../server/engine/rule.js';
import type { StatusUse } from '../../server/effects/status.js';
import type { Unanswered } from '../../server/effects/unanswered.js';

export const statusUnchecked = rule({
  id: 'status-unchecked',
  title: 'The outcome of the operation is not looked at',
  harm: 'A failed operation is taken for a success: stale or empty values are used and the next step starts on a link that is not ready.',
  severity: 'warning',
  sources: ['android-callback-status', 'web-bluetooth-promises'],

  check(facts, report) {
    for (const use of facts.statuses) {
      const draft = ofCallback(use);
      if (draft) report(draft);
    }
    for (const it of facts.unanswered) report(ofHandler(it));
  },
});

function ofCallback(use: StatusUse): Draft | undefined {
  const severity = gradeOf(use);
  if (!severity) return undefined;
  const name = use.member.name;
  const message = use.verdict === 'only-logs'
    ? `${name} never looks at its status: a failure passes unnoticed`
    : use.verdict === 'partly'
      ? `${name} acts on a way on which its status was not compared with GATT_SUCCESS`
      : use.verdict === 'same-outcome'
      ? `${name} does the same whatever its status says`
      : `${name} goes on without a look at its status`;
  return {
    at: use.fn.headSpan ?? use.fn.nameSpan ?? use.fn.span, severity, message,
    ...(use.acts && { related: [{ at: use.acts.span, message: 'This happens although the operation may have failed' }] }),
  };
}

/** Callbacks of a client that deliver something, or after which something begins, are serious. */
function gradeOf(use: StatusUse): Severity | undefined {
  if (use.verdict === 'looked-at' || use.verdict === 'unknown' || use.verdict === 'empty') return undefined;
  if (use.verdict === 'only-logs' || use.verdict === 'same-outcome' || use.type !== 'BluetoothGattCallback') return 'hint';
  switch (use.member.name) {
    case 'onConnectionStateChange': return use.verdict === 'partly' || use.disconnected === 'closes' ? 'hint' : 'warning';
    case 'onMtuChanged': return use.consequence === 'uses-result' ? 'warning' : 'hint';
    case 'onPhyRead': case 'onPhyUpdate': return 'hint';
    default: return 'warning';
  }
}

function ofHandler(it: Unanswered): Draft {
  const { callee } = it.call;
  if (it.run.is === 'open-chain') return { at: callee.kind === 'Member' ? callee.nameSpan : callee.span, message: 'The chain has a path for success only: when this fails, the rejection reaches nobody' };
  if (it.run.is === 'tail') return { at: callee.kind === 'Member' ? callee.nameSpan : callee.span, message: 'When one operation fails, every later one in this tail is refused with its error: nothing between them catches' };
  const where = it.run.is === 'top-level' ? 'the top level of the module' : it.run.is === 'component' ? `${it.run.name}, which only the component's template calls` : it.run.name;
  return {
    at: callee.kind === 'Member' ? callee.nameSpan : callee.span,
    message: `When this fails, the rejection reaches nobody: ${where} has no catch, and whatever runs it drops its promise`,
    related: it.also.slice(0, 3).map(call => ({ at: call.span, message: 'This rejects into the same void' })),
  };
}
