/** A second operation while one is in flight, or one that goes past the queue. */
import { rule, type Draft } from '../../server/engine/rule.js';
import type { Collision } from '../../server/effects/overlaps.js';
import type { Call } from '../../server/ir/ir.js';
import type { Facts } from '../../server/facts/facts.js';

export const operationOutsideQueue = rule({
  id: 'operation-outside-queue',
  title: 'A second operation can be in flight on the link',
  harm: 'A link carries out one operation at a time: the second is refused with a bare false, collides with the first, or rejects with a NetworkError.',
  severity: 'warning',
  sources: ['android-busy-flag', 'web-bluetooth-in-progress'],

  check(facts, report) {
    for (const collision of facts.collisions) report(draftOf(facts, collision));
  },
});

const nameOf = (call: Call): string => (call.callee.kind === 'Member' || call.callee.kind === 'Name' ? call.callee.name : 'this call');
const placeOf = (call: Call) => (call.callee.kind === 'Member' ? call.callee.nameSpan : call.callee.span);

function draftOf(facts: Facts, collision: Collision): Draft {
  const at = placeOf(collision.at);
  if (collision.is === 'overlap') {
    const { overlap } = collision;
    const first = nameOf(overlap.first.op);
    const message = overlap.kind === 'parallel' ? `Several operations are started together; ${nameOf(overlap.op)} is one of them, and a link carries out one at a time`
      : overlap.kind === 'past-queue' ? `${nameOf(overlap.op)} is started past the queue` : overlap.kind === 'connecting' ? `${nameOf(overlap.op)} is started before the link is up`
      : overlap.kind === 'loop' ? `Each round starts ${nameOf(overlap.op)} while the one of the round before may still be in flight`
        : `${nameOf(overlap.op)} is started while ${first} is still in flight`;
    return {
      at, message: overlap.certain ? message : `${message}; only time has passed since, nothing says that it is done`, severity: overlap.certain ? 'warning' : 'hint',
      related: [{ path: facts.code.pathOf(overlap.first.op), at: placeOf(overlap.first.op), message: `${first} is started here` }],
    };
  }
  const { exposure } = collision;
  const op = nameOf(exposure.op);
  const related = exposure.op === collision.at ? [] : [{ path: facts.code.pathOf(exposure.op), at: placeOf(exposure.op), message: `${op} is started here` }];
  switch (exposure.is) {
    case 'past-queue': return { at, related, message: `${op} is started past the queue (${exposure.queue}) through which other operations of this link go`, severity: 'warning' };
    case 'stream': return { at, related, message: `${op} is started for every value that ${exposure.stream} delivers, and nothing waits for the one before`, severity: 'warning' };
    case 'possible': return { at, related, message: `Nothing here prevents ${op} from being started while another operation is in flight`, severity: 'hint' };
  }
}
