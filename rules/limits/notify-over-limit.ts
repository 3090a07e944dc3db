/** More notification registrations on one link than the oldest target system grants. */
import { rule } from '../../server/engine/rule.js';

export const notifyOverLimit = rule({
  id: 'notify-over-limit',
  title: 'More subscriptions on one link than the oldest target grants',
  harm: 'The call answers true, the CCCD is written, the peripheral sends, and the stack drops every value: no registration matches.',
  severity: 'warning',
  sources: ['android-notification-registrations'],

  check(facts, report) {
    for (const it of facts.registrations) {
      const { callee } = it.at;
      const { android } = facts.targets;
      report({
        at: callee.kind === 'Member' ? callee.nameSpan : callee.span,
        message: `This makes ${it.least} notification registrations on one link; API level ${android.minimum} grants fewer`,
        ...(android.origin === 'assumed' && { severity: 'hint' as const }),
      });
    }
  },
});
