/** A second operation while one is in flight, or one that goes past the queue. */
import type { Collision, Harm } from '../../server/effects/overlaps.js';
import type { Overlap } from '../../server/effects/inflight.js';
import type { Exposure } from '../../server/effects/exposure.js';
import { rule, type Draft } from '../../server/engine/rule.js';
import type { Facts } from '../../server/facts/facts.js';
import type { Call } from '../../server/ir/ir.js';
import { fixesFor } from './fixes.js';

export const operationOutsideQueue = rule({
  id: 'operation-outside-queue',
  title: 'A second operation can be in flight on the link',
  harm: 'A link carries out one operation at a time: the second is refused with a bare false or a status, collides with the first, or rejects with a NetworkError.',
  severity: 'warning',
  sources: ['android-framework', 'web-bluetooth-spec', 'chromium-bluetooth-errors'],

  check(facts, report) {
    for (const collision of facts.collisions) report(draftOf(facts, collision));
  },
});

const nameOf = (call: Call): string => (call.callee.kind === 'Member' || call.callee.kind === 'Name' ? call.callee.name : 'this call');
const placeOf = (call: Call): Draft['at'] => (call.callee.kind === 'Member' ? call.callee.nameSpan : call.callee.span);

/** What is started, and by which call, where that has another name. */
const through = (op: Call, at: Call): string => (nameOf(op) === nameOf(at) ? nameOf(op) : `${nameOf(op)}, through ${nameOf(at)},`);

function draftOf(facts: Facts, collision: Collision): Draft {
  const { at } = collision;
  const harm = HARM[collision.harm];
  const told = collision.is === 'overlap' ? ofOverlap(facts, at, collision.overlap, harm) : ofExposure(facts, at, collision.exposure, harm);
  // A test may provoke it, and its link may be a double.
  const severity = facts.isTest ? 'hint' : told.severity;
  const fixes = severity === 'warning' ? fixesFor(facts, collision) : [];
  return { ...told, severity, at: placeOf(at), ...(facts.file.language === 'kotlin' && { apiLevels: { from: facts.targets.android.minimum } }), fixes };
}

type Told = Omit<Draft, 'at' | 'severity'> & { readonly severity: 'warning' | 'hint' };

// ---- What one function does ---------------------------------------------

function ofOverlap(facts: Facts, at: Call, overlap: Overlap, harm: string): Told {
  const { first, op, certain } = overlap;
  const related = first.call === at || first.op === at ? [] : [relatedTo(facts, first.call, startedText(overlap))];
  const behind = op === at || op === first.op ? [] : [relatedTo(facts, op, `It starts ${nameOf(op)} here`)];
  const message = certain ? `${describe(overlap)}. ${harm}` : `${describe(overlap)}, unless it has ended by then: only time passes in between, or not every way leads there`;
  return { message, severity: certain ? 'warning' : 'hint', related: [...related, ...behind] };
}

function describe({ kind, first, op, call }: Overlap): string {
  const second = through(op, call);
  switch (kind) {
    case 'parallel': return `Several operations are started at once, ${nameOf(op)} among them`;
    case 'loop': return `Each round starts ${nameOf(op)} while that of the round before is still in flight`;
    case 'connecting': return `${second} is started right after ${nameOf(first.op)}, before onConnectionStateChange has said that there is a link`;
    case 'past-queue': return first.op === op ? `${second} is started past the queue (${first.queued}), which is given an operation of its own right after` : `${second} is started past the queue (${first.queued}), which was just given ${nameOf(first.op)}`;
    case 'sequence': return `${second} is started while ${nameOf(first.op)} is still in flight`;
  }
}

function startedText({ kind, first }: Overlap): string {
  if (kind === 'connecting') return 'The link is asked for here';
  if (kind === 'past-queue') return `${nameOf(first.op)} goes through the queue`;
  return first.call === first.op ? `${nameOf(first.op)} is started here, and nothing waits for it` : `${nameOf(first.call)} starts ${nameOf(first.op)} here, and nothing waits for it`;
}

// ---- How it is reached --------------------------------------------------

function ofExposure(facts: Facts, at: Call, exposure: Exposure, harm: string): Told {
  const { op } = exposure;
  const behind = op === at ? [] : [relatedTo(facts, op, `It starts ${nameOf(op)} here`)];
  const started = through(op, at);
  switch (exposure.is) {
    case 'past-queue': return {
      message: `${started} is started past the queue (${exposure.queue}) through which operations of this link go. ${harm}`, severity: 'warning',
      related: [...behind, ...(exposure.other ? [relatedTo(facts, exposure.other, `${nameOf(exposure.other)} goes through the queue`)] : [])],
    };
    case 'stream': return {
      message: `${started} is started for every value that ${exposure.stream} delivers, and nothing waits for the one before. ${harm}`, severity: 'warning',
      related: behind,
    };
    case 'possible': return { message: `Nothing here prevents ${started} from being started while another operation is in flight`, severity: 'hint', related: behind };
  }
}

const relatedTo = (facts: Facts, call: Call, message: string) => ({ path: facts.code.pathOf(call), at: placeOf(call), message });

/**
 * What becomes of the second one. Sources: `BluetoothGatt`, AOSP framework: `mDeviceBusy` guards reads and writes, and a
 * second one answers false or, from Android 13 on, `ERROR_GATT_WRITE_REQUEST_BUSY` (201); discovery, MTU, RSSI and PHY
 * requests are not guarded. Web Bluetooth lets a browser reject with a NetworkError while it uses the Bluetooth system.
 */
const HARM: Record<Harm, string> = {
  'refused-by-flag': 'In every Android version the second answers false and is not carried out',
  'refused-by-status': 'On Android 13 and later the second answers 201, ERROR_GATT_WRITE_REQUEST_BUSY, and is not carried out',
  'collides': 'The busy flag of no Android version covers both: the second is accepted, and then one of the two fails or its callback never comes',
  'without-link': 'Without a link it is refused in every Android version, or its callback never comes',
  'rejected': 'Browsers may refuse it with a NetworkError, “GATT operation already in progress”',
};
