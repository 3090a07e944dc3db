/**
 * What follows from a profile's figures: how many bytes fit into each packet at each ATT_MTU, how many registrations and
 * links each Android release grants against how many the profile needs, and which values fit. Plain data for reports and
 * rules; it judges nothing in the app's code, which may use less, or more, than the profile offers.
 *
 * Every row names its source, a key of the catalogue's sources.
 */
import { limitRanges, osLimit, type LimitRange } from '../catalogue/index.js';
import { allows, characteristicsOf } from './attributes.js';
import { FIRST_BLE_LEVEL, FIRST_LEVEL_ASKING_GREATEST, FIRST_LEVEL_WITH_REQUEST, GREATEST_MTU, LEAST_MTU, LONGEST_VALUE } from './figures.js';
import type { Targets } from './targets.js';
import type { Characteristic, Profile, Property, Service } from './types.js';

export interface Budget {
  /** API levels that the rows are about; those below the first with Bluetooth LE are left out. */
  readonly from: number;
  readonly origin: Targets['android']['origin'];
  readonly mtus: readonly MtuRow[];
  /** At each ATT_MTU that occurs, and at the one that is asked for where nobody says what the peripheral grants. */
  readonly payloads: readonly PayloadRow[];
  /** Registrations for value changes on one GATT client. */
  readonly registrations: readonly LimitRow[];
  /** Characteristics that notify or indicate: what `registrations` needs if the app subscribes to all of them. */
  readonly subscriptions: readonly { readonly service: Service; readonly characteristic: Characteristic }[];
  /** LE links of the whole phone, shared by all its apps. */
  readonly links: readonly LimitRow[];
  /** At the same. */
  readonly values: readonly ValueRow[];
}

/** The ATT_MTU on one range of systems. */
export interface MtuRow {
  readonly system: 'android' | 'browser';
  /** API levels, inclusive; absent for browsers. */
  readonly from?: number;
  /** Absent: and later. */
  readonly to?: number;
  /** What the phone asks for; absent where nothing is asked, or nobody can say. */
  readonly asked?: number;
  /** What can be counted on, given what the profile says of the peripheral. */
  readonly mtu: number;
  readonly because: 'no exchange' | 'the peripheral is not known' | 'negotiated';
  readonly source: string;
}

/** Largest part of a value, in bytes, that one packet carries. */
export interface PayloadRow {
  readonly mtu: number;
  readonly packet: Packet;
  readonly bytes: number;
  readonly source: string;
}

export type Packet =
  | 'write request' | 'write command' | 'signed write command' | 'prepare write request' | 'notification' | 'indication' | 'read response' | 'read by type response';

/** What a range of API levels grants, against what the profile needs. */
export interface LimitRow extends LimitRange {
  /** Absent where the profile does not say. */
  readonly needed?: number;
  readonly exceeded: boolean;
  /** Phone makers could build in another figure. */
  readonly makersMayDiffer: boolean;
}

/** One way in which a characteristic's longest value travels, at one ATT_MTU. */
export interface ValueRow {
  readonly service: Service;
  readonly characteristic: Characteristic;
  readonly way: Way;
  readonly mtu: number;
  /** Longest value, in bytes. */
  readonly size: number;
  /** What one packet carries. */
  readonly room: number;
  /** `several`: a long read, or a long write of prepared parts, which many peripherals refuse; `cut`: the rest is lost. */
  readonly fits: 'one packet' | 'several' | 'cut';
  /** Packets that carry the value; 1 where it is cut. */
  readonly packets: number;
  readonly source: string;
}

export type Way = Extract<Property, 'read' | 'write' | 'write without response' | 'authenticated signed writes' | 'notify' | 'indicate'>;

export function budgetOf(profile: Profile | undefined, targets: Targets): Budget {
  const from = Math.max(targets.android.minimum, FIRST_BLE_LEVEL);
  const characteristics = profile === undefined ? [] : characteristicsOf(profile);
  const subscriptions = characteristics.filter(({ characteristic }) => allows(characteristic, 'notify', 'indicate') === true);
  const mtus = mtuRows(profile, targets, from);
  const counted = distinct(mtus.flatMap(({ mtu, asked, because }) => (because === 'the peripheral is not known' && asked !== undefined ? [mtu, asked] : [mtu])));
  return {
    from,
    origin: targets.android.origin,
    mtus,
    payloads: distinct([LEAST_MTU, ...counted]).flatMap(payloadRows),
    registrations: limitRows('notification-registrations', from, profile === undefined ? undefined : subscriptions.length),
    subscriptions,
    links: limitRows('gatt-links', from, profile?.link.peripherals?.value),
    values: characteristics.flatMap(({ service, characteristic }) => counted.flatMap((mtu) => valueRows(service, characteristic, mtu))),
  };
}

function distinct(numbers: readonly number[]): readonly number[] {
  return [...new Set(numbers)].sort((a, b) => a - b);
}

// ---- The ATT_MTU --------------------------------------------------------

function mtuRows(profile: Profile | undefined, targets: Targets, from: number): MtuRow[] {
  const negotiated = profile?.link.negotiatedMtu?.value;
  // An exchange that ended with something was asked for.
  const requested = profile?.link.requestedMtu?.value ?? negotiated;
  const ranges: { from: number; to?: number; asked?: number; source: string }[] = [
    { from: FIRST_BLE_LEVEL, to: FIRST_LEVEL_WITH_REQUEST - 1, source: 'android-api' },
    { from: FIRST_LEVEL_WITH_REQUEST, to: FIRST_LEVEL_ASKING_GREATEST - 1, ...(requested === undefined ? {} : { asked: requested }), source: 'bt-mtu' },
    { from: FIRST_LEVEL_ASKING_GREATEST, ...(requested === undefined ? {} : { asked: GREATEST_MTU }), source: 'bt-mtu' },
  ];
  const rows = ranges
    .filter(({ to }) => to === undefined || to >= from)
    .map((range): MtuRow => ({ system: 'android', ...range, from: Math.max(range.from, from), ...outcome(range.asked, negotiated) }));
  if (targets.browser === undefined) return rows;
  // A page cannot ask: the browser exchanges the ATT_MTU itself (Web Bluetooth has no call for it).
  const page = negotiated === undefined ? { mtu: LEAST_MTU, because: 'the peripheral is not known' as const } : { mtu: negotiated, because: 'negotiated' as const };
  return [...rows, { system: 'browser', ...page, source: 'web-bluetooth-spec' }];
}

/** An exchange ends with the smaller of the two offers; without one the link stays at the ATT_MTU it began with. */
function outcome(asked: number | undefined, negotiated: number | undefined): Pick<MtuRow, 'mtu' | 'because'> {
  if (asked === undefined) return { mtu: LEAST_MTU, because: 'no exchange' };
  if (negotiated === undefined) return { mtu: LEAST_MTU, because: 'the peripheral is not known' };
  return { mtu: Math.min(asked, negotiated), because: 'negotiated' };
}

// ---- Packets ------------------------------------------------------------

/**
 * Bytes of each packet that are not value: opcode 1, handle 2, offset 2, signature 12, and one for the length of the pairs
 * in a Read By Type Response (Core Specification, Vol 3, Part F; AOSP `attp_build_value_cmd`).
 */
const OVERHEAD: Readonly<Record<Packet, number>> = {
  'write request': 1 + 2,
  'write command': 1 + 2,
  'signed write command': 1 + 2 + 12,
  'prepare write request': 1 + 2 + 2,
  notification: 1 + 2,
  indication: 1 + 2,
  'read response': 1,
  'read by type response': 1 + 1 + 2,
};
/** The pair of handle and value in a Read By Type Response states its length in one byte. */
const LONGEST_PAIR = 255;

/** Bytes of value in one packet at an ATT_MTU. */
export function payload(packet: Packet, mtu: number): number {
  const room = mtu - OVERHEAD[packet];
  return Math.min(room, packet === 'read by type response' ? LONGEST_PAIR - 2 : LONGEST_VALUE);
}

function payloadRows(mtu: number): PayloadRow[] {
  return (Object.keys(OVERHEAD) as Packet[]).map((packet) => ({ mtu, packet, bytes: payload(packet, mtu), source: 'core-specification' }));
}

// ---- Limits of the system -----------------------------------------------

function limitRows(name: string, from: number, needed: number | undefined): LimitRow[] {
  const limit = osLimit(name);
  return limitRanges(limit, from).map((range) => ({
    ...range,
    ...(needed === undefined ? {} : { needed }),
    exceeded: needed !== undefined && needed > range.value,
    makersMayDiffer: limit.firmFrom === undefined || range.from < limit.firmFrom,
  }));
}

// ---- Values -------------------------------------------------------------

/** What happens to a value that one packet cannot carry: AOSP `gatt_act_write` splits a request and cuts a command. */
const WAYS: Readonly<Record<Way, { readonly packet: Packet; readonly part?: Packet; readonly source: string }>> = {
  read: { packet: 'read response', part: 'read response', source: 'core-specification' },
  write: { packet: 'write request', part: 'prepare write request', source: 'bt-stack' },
  'write without response': { packet: 'write command', source: 'bt-stack' },
  'authenticated signed writes': { packet: 'signed write command', source: 'core-specification' },
  notify: { packet: 'notification', source: 'core-specification' },
  indicate: { packet: 'indication', source: 'core-specification' },
};

function valueRows(service: Service, characteristic: Characteristic, mtu: number): ValueRow[] {
  const size = characteristic.size?.maximum;
  if (size === undefined) return [];
  return (characteristic.properties ?? []).flatMap(({ value: way }): ValueRow[] => {
    if (way === 'broadcast' || way === 'extended properties') return [];
    const { packet, part, source } = WAYS[way];
    const room = payload(packet, mtu);
    const row = { service, characteristic, way, mtu, size, room, source };
    if (size <= room) return [{ ...row, fits: 'one packet', packets: 1 }];
    if (part === undefined) return [{ ...row, fits: 'cut', packets: 1 }];
    return [{ ...row, fits: 'several', packets: Math.ceil(size / payload(part, mtu)) }];
  });
}
