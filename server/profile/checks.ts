/**
 * What a profile says against itself, or against what Bluetooth allows. Each check rests on a source, named beside it;
 * spelling and bounds are judged before (`validate.ts`, `build.ts`), and sizes against payloads in the budget, not here.
 */
import { assignedNumbers, blocklisted } from '../catalogue/index.js';
import { allows, attributesOf, callOf, characteristicsOf, shortest } from './attributes.js';
import { FIRST_BLE_LEVEL, FIRST_LEVEL_ASKING_GREATEST } from './figures.js';
import type { Attribute, Characteristic, Placed, Problem, Profile, Requirement } from './types.js';
import { BASE_UUID } from './uuid.js';

/** Client Characteristic Configuration: bit 0 switches notifications, bit 1 indications (AOSP `BluetoothGattDescriptor`). */
const CCCD = `00002902${BASE_UUID}`;

export function check(profile: Profile): Problem[] {
  return [
    ...targets(profile),
    ...mtu(profile),
    ...duplicates(profile),
    ...characteristicsOf(profile).flatMap(({ characteristic }) => [...clientConfiguration(characteristic), ...uselessSecurity(characteristic)]),
    ...attributesOf(profile).flatMap(({ attribute }) => [...shortUuid(attribute), ...contradictorySecurity(attribute)]),
    ...(profile.targets.browser === undefined ? [] : attributesOf(profile).flatMap(({ attribute }) => withheld(attribute))),
  ];
}

// ---- Targets and link ---------------------------------------------------

function targets({ targets: { android } }: Profile): Problem[] {
  const { minimum, target } = android ?? {};
  const problems: Problem[] = [];
  if (minimum !== undefined && target !== undefined && minimum.value > target.value) {
    problems.push({
      at: minimum.at, message: `The oldest API level, ${minimum.value}, is newer than the target, ${target.value}.`, severity: 'error',
      related: [{ at: target.at, message: 'The target.' }],
    });
  }
  // android.bluetooth.BluetoothGatt: added in API level 18.
  for (const level of [minimum, target]) {
    if (level === undefined || level.value >= FIRST_BLE_LEVEL) continue;
    problems.push({
      at: level.at, severity: 'warning',
      message: `API level ${level.value} is older than ${FIRST_BLE_LEVEL} (Android 4.3), the first with Bluetooth LE. The number is an API level, not an Android release.`,
    });
  }
  return problems;
}

/** An exchange ends with the smaller of two offers; from Android 14 on the phone's offer is 517 whatever the app asks. */
function mtu({ link: { requestedMtu, negotiatedMtu }, targets: { android } }: Profile): Problem[] {
  if (requestedMtu === undefined || negotiatedMtu === undefined || negotiatedMtu.value <= requestedMtu.value) return [];
  if (android?.minimum !== undefined && android.minimum.value >= FIRST_LEVEL_ASKING_GREATEST) return [];
  return [{
    at: negotiatedMtu.at, severity: 'hint', related: [{ at: requestedMtu.at, message: 'What the app asks for.' }],
    message: `Up to Android 13 the exchange ends with no more than the app asks for, ${requestedMtu.value}; ${negotiatedMtu.value} is reached only from Android 14 on.`,
  }];
}

// ---- Attributes ---------------------------------------------------------

/** Android's `getCharacteristic(uuid)` and its like yield the first of several alike, so the others are out of reach by name. */
function duplicates(profile: Profile): Problem[] {
  return [
    ...repeated(profile.services, 'hint', (uuid) => `The service ${uuid} stands here twice. GATT allows that; a look-up by UUID then yields the first one only.`),
    ...profile.services.flatMap((service) =>
      repeated(service.characteristics, 'warning', (uuid) => `The characteristic ${uuid} stands in this service twice; a look-up by UUID yields the first one only.`)),
    ...characteristicsOf(profile).flatMap(({ characteristic }) =>
      repeated(characteristic.descriptors ?? [], 'warning', (uuid) => `The descriptor ${uuid} stands in this characteristic twice.`)),
  ];
}

function repeated(attributes: readonly Attribute[], severity: Problem['severity'], say: (uuid: string) => string): Problem[] {
  const first = new Map<string, Placed<string>>();
  return attributes.flatMap(({ uuid }): Problem[] => {
    if (uuid === undefined) return [];
    const earlier = first.get(uuid.value);
    if (earlier === undefined) {
      first.set(uuid.value, uuid);
      return [];
    }
    return [{ at: uuid.at, message: say(shortest(uuid.value)), severity, related: [{ at: earlier.at, message: 'The first one.' }] }];
  });
}

/** Notifications and indications are switched by the CCCD, which serves nothing else. */
function clientConfiguration(characteristic: Characteristic): Problem[] {
  const pushes = allows(characteristic, 'notify', 'indicate');
  if (pushes === undefined || characteristic.descriptors === undefined || characteristic.descriptors.length === 0) return [];
  const cccd = characteristic.descriptors.find(({ uuid }) => uuid?.value === CCCD);
  const unread = characteristic.descriptors.some(({ uuid }) => uuid === undefined);
  if (pushes && cccd === undefined && !unread) {
    const property = characteristic.properties?.find(({ value }) => value === 'notify' || value === 'indicate');
    return [{
      at: property?.at ?? characteristic.at, severity: 'warning',
      message: `The descriptors of ${callOf(characteristic)} are listed without 0x2902, by which a client turns ${property?.value === 'indicate' ? 'indications' : 'notifications'} on.`,
    }];
  }
  if (!pushes && cccd?.uuid !== undefined) {
    return [{
      at: cccd.uuid.at, severity: 'warning',
      message: `0x2902 turns notifications and indications on, and ${callOf(characteristic)} has neither property.`,
    }];
  }
  return [];
}

/** The property bits say which operations there are (Core Specification, Vol 3, Part G); security on any other is idle. */
function uselessSecurity(characteristic: Characteristic): Problem[] {
  const { read, write } = characteristic.security;
  const problems: Problem[] = [];
  if (read[0] !== undefined && allows(characteristic, 'read') === false) {
    problems.push({ at: read[0].at, message: `Reading is secured, and ${callOf(characteristic)} has no property "read".`, severity: 'warning' });
  }
  if (write[0] !== undefined && allows(characteristic, 'write', 'write without response', 'authenticated signed writes') === false) {
    problems.push({ at: write[0].at, message: `Writing is secured, and ${callOf(characteristic)} has no property by which it can be written.`, severity: 'warning' });
  }
  return problems;
}

function contradictorySecurity(attribute: Attribute): Problem[] {
  if (attribute.kind === 'service') return [];
  const { read, write } = attribute.security;
  return [read, write].flatMap((required: readonly Placed<Requirement>[]) => {
    const none = required.find(({ value }) => value === 'none');
    return none === undefined || required.length === 1 ? [] : [{ at: none.at, message: '"none" stands beside a requirement; leave one of them out.', severity: 'warning' as const }];
  });
}

/**
 * A UUID on the Bluetooth base UUID belongs to the Bluetooth SIG. Of the numbers for member companies (0xFC00 to 0xFEFF)
 * and standards bodies (0xFFF0 to 0xFFFF) no complete table is at hand, so nothing is said of those.
 */
function shortUuid(attribute: Attribute): Problem[] {
  const { kind, uuid } = attribute;
  if (uuid === undefined || !uuid.value.endsWith(BASE_UUID)) return [];
  const shown = shortest(uuid.value);
  const assigned = assignedNumbers(uuid.value);
  if (assigned.length === 0) {
    const number = Number.parseInt(uuid.value.slice(0, 8), 16);
    if ((number >= 0xfc00 && number <= 0xfeff) || (number >= 0xfff0 && number <= 0xffff)) return [];
    return [{
      at: uuid.at, severity: 'hint',
      message: `${shown} is not among the assigned numbers. Short UUIDs belong to the Bluetooth SIG; a ${kind} of your own needs a random 128-bit UUID.`,
    }];
  }
  if (assigned.some((entry) => entry.kind === kind || (entry.kind === 'member' && kind === 'service'))) return [];
  const [other] = assigned;
  return other === undefined ? [] : [{ at: uuid.at, message: `${shown} is assigned to the ${other.kind} "${other.name}", not to a ${kind}.`, severity: 'warning' }];
}

/** The blocklist of the Web Bluetooth registries: pages never see these attributes. */
function withheld(attribute: Attribute): Problem[] {
  const { kind, uuid } = attribute;
  if (uuid === undefined || kind === 'descriptor') return [];
  const entry = blocklisted(uuid.value);
  if (entry === undefined || entry.kind !== kind || entry.excludes !== 'all') return [];
  return [{ at: uuid.at, message: `Browsers withhold the ${kind} ${shortest(uuid.value)} (${entry.name}) from every page.`, severity: 'warning' }];
}
