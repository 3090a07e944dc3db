/** More notification registrations on one link than the oldest target system grants. */
import { rule, type Draft } from '../../server/engine/rule.js';
import type { Registrations } from '../../server/effects/limits.js';
import type { Facts } from '../../server/facts/facts.js';

export const notifyOverLimit = rule({
  id: 'notify-over-limit',
  title: 'More subscriptions on one link than the oldest target grants',
  harm: 'The call answers true, the CCCD is written, the peripheral sends, and the stack drops every value: no registration matches.',
  severity: 'warning',
  sources: ['bluedroid-notif-4', 'bluedroid-notif-7', 'bt-stack-notif-15', 'bt-stack-notif-64', 'android-framework'],

  check(facts, report) {
    for (const it of facts.registrations) report(draftOf(facts, it));
  },
});

function draftOf(facts: Facts, it: Registrations): Draft {
  const { callee } = it.at;
  const { android } = facts.targets;
  const { short } = it.limit;
  return {
    at: callee.kind === 'Member' ? callee.nameSpan : callee.span,
    message: `${wrong(it)}. ${consequence(facts, it)}`,
    apiLevels: short,
    related: it.made.map(({ call, count }) => ({
      path: facts.code.pathOf(call), at: call.span,
      message: count === 0 ? 'Whatever the peripheral offers' : count === 1 ? 'One of them' : `${count} of them`,
    })),
    ...(android.origin === 'assumed' && { severity: 'hint' as const }),
    ...(android.place && {
      lead: { title: android.origin === 'profile' ? 'Open the oldest Android release in the device profile' : 'Open the oldest Android release in the build file', ...android.place },
    }),
  };
}

function wrong({ how, least }: Registrations): string {
  switch (how) {
    case 'counted': return `This is notification registration number ${least} on one GATT client`;
    case 'listed': return `This subscribes to everything that the peripheral offers, which by the device profile is ${least} characteristics`;
    case 'unbounded': return 'This subscribes to everything that the peripheral offers, and nothing bounds how much that is';
  }
}

/** The figures are those of AOSP; `firmFrom` is the first level at which makers cannot change them. */
function consequence({ targets }: Facts, { limit }: Registrations): string {
  const { short } = limit;
  const levels = short.to === undefined ? `From API level ${short.from} on` : short.to === short.from ? `At API level ${short.from}` : `On API levels ${short.from} to ${short.to}`;
  const minimum = targets.android.origin === 'assumed' ? `, the oldest level assumed here since nothing states one (${limit.releases})` : `, the oldest that the app runs on (${limit.releases})`;
  const makers = limit.firmFrom !== undefined && short.from < limit.firmFrom ? `; before API level ${limit.firmFrom} makers may have set another figure` : '';
  return `${levels} Android has fewer places (${limit.constant}): ${limit.granted} at API level ${targets.android.minimum}${minimum}${makers}. The call still returns true, and no value of what has no place ever arrives`;
}
