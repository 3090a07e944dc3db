/** A link that is opened and, on some way, never given back. */
import { rule, type Draft } from '../../server/engine/rule.js';
import type { LinkLife } from '../../server/effects/links.js';
import type { Facts } from '../../server/facts/facts.js';

export const linkNotClosed = rule({
  id: 'link-not-closed',
  title: 'The link is not closed on every way down',
  harm: 'The client stays registered with the system and the peripheral stays taken; after a few times every connection fails until the process ends.',
  severity: 'warning',
  sources: ['android-gatt-close', 'web-bluetooth-disconnect'],

  check(facts, report) {
    for (const life of facts.links) {
      const draft = draftOf(facts, life);
      if (draft) report(draft);
    }
  },
});

function draftOf(facts: Facts, life: LinkLife): Draft | undefined {
  const { callee } = life.open;
  const at = callee.kind === 'Member' ? callee.nameSpan : callee.span;
  const name = callee.kind === 'Member' || callee.kind === 'Name' ? callee.name : 'this call';
  const { verdict } = life;
  const close = facts.file.language === 'kotlin' ? 'close()' : 'disconnect()';
  switch (verdict.is) {
    case 'closed': case 'unknown': return undefined;
    case 'dropped': return { at, message: `The link that ${name} yields is dropped: while it is pending nobody can cancel or close it` };
    case 'never-closed': return {
      at, message: `The link that ${name} opens is never given back with ${close}`,
      related: verdict.disconnects.slice(0, 3).map(call => ({ path: facts.code.pathOf(call), at: call.span, message: 'disconnect() ends the radio link and leaves the client registered' })),
    };
    case 'unreached': return {
      at, message: `The link that ${name} opens is closed only where nothing ever gets to`,
      related: verdict.by.slice(0, 3).map(c => ({ path: facts.code.pathOf(c.call), at: c.call.span, message: 'Nobody calls the function around this' })),
    };
    case 'behind-flag': return {
      at, message: `The link that ${name} opens is closed only while a flag holds: one that is pending or was lost stays open`,
      related: [{ path: facts.code.pathOf(verdict.flag), at: verdict.flag.span, message: 'This is false while the link is pending, and after it was lost' }],
    };
    case 'overwritten': return {
      at, message: verdict.by === 'loop'
        ? `Each further round opens a link here and forgets the one before, which nobody can close any more`
        : `Each scan result opens a link here and forgets the one before, which nobody can close any more`,
    };
  }
}
