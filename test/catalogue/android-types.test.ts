/**
 * The Android classes against the platform's own declarations, as npm `@nativescript/types-android` ships them: every
 * public member is there with its parameters, result and API levels, and every call that answers a boolean or a status
 * has an answer in the catalogue.
 */
import { describe, expect, it } from 'vitest';
import { callbackOf, constantOf, membersOf, platformType, type PlatformMember } from '../../server/catalogue/index.js';
import { declaredClasses, sharedFile, type DeclaredClass, type DeclaredMember } from './files.js';

/** The classes that GATT, scanning and advertising go through. */
const BLE = /^android\.bluetooth\.(le\..+|Bluetooth(Gatt\w*|Manager|Adapter|Device|Profile|StatusCodes|Socket|ServerSocket)(\.\w+)?|BondStatus|EncryptionStatus)$/;
const declared = declaredClasses('android-platform-21-37-merged.d.ts', /^android\.bluetooth\./, (name) => BLE.test(name));

/** What every object or parcel has (`Object`, `Parcelable`), and what is no part of the documented API. */
const LEFT_OUT = new Set(['class', 'CREATOR', 'describeContents', 'writeToParcel', 'equals', 'hashCode', 'toString', 'finalize', 'mDescriptors', 'mService', 'mCharacteristics', 'mIncludedServices']);

function members(of: DeclaredClass): readonly DeclaredMember[] {
  const seen = new Set<string>();
  return of.members.filter((member) => {
    // The file repeats inherited members with nameless parameters, and adds constructors to interfaces.
    const key = `${member.name}(${member.params.map((type) => neutral(type).replaceAll('?', '')).join()})`;
    const first = !seen.has(key);
    seen.add(key);
    const madeUp = member.kind === 'constructor' && (member.params[0]?.startsWith('{') === true || platformType('kotlin', of.name)?.kind === 'interface');
    return first && !madeUp && !LEFT_OUT.has(member.name);
  });
}

/** The program model's name of a declared type. */
function neutral(type: string): string {
  if (type.endsWith(' | null')) return `${neutral(type.slice(0, -7))}?`;
  const generic = /^([\w.]+)<(.*)>$/.exec(type);
  if (generic !== null) {
    const [, name = '', args = ''] = generic;
    if (name === 'androidNative.Array') return args === 'number' ? 'numbers' : `list<${neutral(args)}>`;
    const plain = name === 'java.util.List' || name === 'java.util.Collection' ? 'list' : name === 'java.util.Set' ? 'set' : name === 'java.util.Map' ? 'map' : bare(name);
    return `${plain}<${args.split(/, ?/).map(neutral).join(', ')}>`;
  }
  if (/^java\.lang\.(Integer|Float)$/.test(type)) return 'number?';
  if (/^-?\d+$/.test(type)) return 'number';
  if (/^["']/.test(type) || type === 'java.lang.CharSequence') return 'string';
  return bare(type);
}

function bare(name: string): string {
  return name.replace(/^(?:[a-z]\w*\.)+/, '');
}

/** Whether the catalogue's type says what the declaration says; it may know more: bytes, null. */
function agrees(ours: string, theirs: string): boolean {
  const plain = ours.replaceAll('?', '');
  const other = theirs.replaceAll('?', '');
  return plain === other || (other.includes('numbers') && [other.replace('numbers', 'bytes'), other.replace('numbers', 'list<number>')].includes(plain));
}

function counterpart(of: DeclaredClass, member: DeclaredMember): PlatformMember | undefined {
  if (member.kind === 'field') return constantOf('kotlin', of.name, member.name);
  const candidates = member.kind === 'constructor'
    ? platformType('kotlin', of.name)?.members.filter((each) => each.kind === 'constructor') ?? []
    : platformType('kotlin', of.name)?.members.filter((each) => each.name === member.name) ?? [];
  return candidates.find((each) => each.params?.length === member.params.length && each.params.every((param, at) => agrees(param.type, neutral(member.params[at]!))));
}

describe('Android classes for Bluetooth Low Energy', () => {
  it('are all in the catalogue, and the catalogue has no others under those packages', () => {
    expect([...declared.keys()].filter((name) => platformType('kotlin', name) === undefined)).toEqual([]);
    console.info(`android.bluetooth: ${declared.size} classes, ${[...declared.values()].reduce((sum, each) => sum + members(each).length, 0)} members compared`);
    expect(declared.size).toBeGreaterThan(40);
  });

  it.each([...declared.values()].map((each) => [bare(each.name), each] as const))('%s has every member with its types', (_, each) => {
    const problems = members(each).flatMap((member) => {
      const ours = counterpart(each, member);
      const title = `${member.name}(${member.params.map(neutral).join(', ')})`;
      if (ours === undefined) return [`missing: ${title}`];
      if (ours.static !== (member.static || undefined)) return [`static: ${title}`];
      const result = member.kind === 'constructor' ? bare(each.name) : neutral(member.result);
      return agrees(ours.result ?? 'void', result) ? [] : [`result: ${title} is ${ours.result} and not ${result}`];
    });
    expect(problems).toEqual([]);
    const known = members(each).map((member) => member.name);
    expect(platformType('kotlin', each.name)!.members.map((member) => member.name).filter((name) => !known.includes(name) && name !== 'constructor')).toEqual([]);
  });

  it('have the values of their constants', () => {
    for (const each of declared.values()) {
      for (const member of members(each)) {
        const literal = /^-?\d+$/.test(member.result) ? Number(member.result) : /^"(.*)"$/.exec(member.result)?.[1];
        if (member.kind === 'field' && literal !== undefined) expect(constantOf('kotlin', each.name, member.name)?.value, `${each.name}.${member.name}`).toBe(literal);
      }
    }
  });

  it('have the values of the descriptor for notifications (Core Specification, Vol 3, Part G, 3.3.3.3: bit 0 notifies, bit 1 indicates, little-endian)', () => {
    const value = (name: string): unknown => constantOf('kotlin', 'BluetoothGattDescriptor', name)?.value;
    expect([value('ENABLE_NOTIFICATION_VALUE'), value('ENABLE_INDICATION_VALUE'), value('DISABLE_NOTIFICATION_VALUE')]).toEqual([[1, 0], [2, 0], [0, 0]]);
  });

  it('have the API levels that the declarations give', () => {
    const problems: string[] = [];
    for (const each of declared.values()) {
      for (const member of members(each)) {
        const ours = counterpart(each, member);
        const title = `${bare(each.name)}.${member.name}(${member.params.map(neutral).join(', ')})`;
        // The file names levels from 22 to 36; what came with 37 and what was there by 21 stands without one.
        const since = ours?.since ?? 0;
        const classSince = platformType('kotlin', each.name)?.since ?? 0;
        const fits = member.since === undefined ? since <= 21 || since === 37 || since === classSince : since === member.since;
        if (!fits) problems.push(`since: ${title} ${ours?.since} for ${member.since}`);
        const deprecated = member.deprecated === 0 ? ours?.deprecated !== undefined : ours?.deprecated === member.deprecated;
        if (!deprecated) problems.push(`deprecated: ${title} ${ours?.deprecated} for ${member.deprecated}`);
      }
    }
    expect(problems).toEqual([]);
  });

  it('have the API levels of the type files of each level', () => {
    const text = sharedFile('data/android-api-levels.json');
    if (text === undefined) return;
    const first = new Map<string, number>();
    for (const [owner, member, level] of JSON.parse(text) as [string, string, number, number][]) {
      const match = /^public (?:static )?(\w+)\((.*)\)(?:: .*)?;$/.exec(member);
      const field = /^public static (\w+): .*;$/.exec(member);
      const key = match !== null ? `${owner}.${match[1]}/${match[2]!.split(', ').map((param) => neutral(param.replace(/^\w+: /, ''))).join()}` : field !== null ? `${owner}.${field[1]}` : undefined;
      if (key !== undefined) first.set(key, Math.min(level, first.get(key) ?? level));
    }
    let compared = 0;
    const problems: string[] = [];
    for (const each of declared.values()) {
      for (const member of members(each)) {
        const key = member.kind === 'field' ? `${each.name}.${member.name}` : `${each.name}.${member.name}/${member.params.map((type) => neutral(type).replace(/\?$/, '')).join()}`;
        const level = first.get(key);
        if (level === undefined) continue;
        compared += 1;
        const ours = counterpart(each, member)?.since ?? 17;
        if (ours !== level) problems.push(`${key}: ${ours} for ${level}`);
      }
    }
    console.info(`API levels compared with the type files of levels 17 to 35: ${compared}`);
    expect(problems).toEqual([]);
    expect(compared).toBeGreaterThan(500);
  });
});

/** Calls that answer a boolean or a number and start or promise nothing: questions, and arithmetic. */
const QUESTIONS = /^(get|is|has|matches|contains|check|accept$|totalBytes|includeTxPower)/;

it('every call that answers a boolean or a status has an answer in the catalogue', () => {
  let counted = 0;
  const silent: string[] = [];
  for (const each of declared.values()) {
    for (const member of members(each)) {
      if (member.kind !== 'method' || !['boolean', 'number'].includes(member.result) || QUESTIONS.test(member.name)) continue;
      const ours = counterpart(each, member);
      counted += 1;
      const answer = member.result === 'boolean' ? 'accept-flag' : 'accept-status';
      if (ours?.answer !== answer) silent.push(`${bare(each.name)}.${member.name}: ${ours?.answer}`);
    }
  }
  console.info(`calls that answer a boolean or a status: ${counted}`);
  expect(silent).toEqual([]);
  expect(counted).toBeGreaterThan(30);
});

describe('operations and their completions (BluetoothGatt.java, BluetoothGattServer.java)', () => {
  const callbacks: Readonly<Record<string, readonly string[]>> = {
    BluetoothGatt: ['BluetoothGattCallback'], BluetoothGattServer: ['BluetoothGattServerCallback'], BluetoothDevice: ['BluetoothGattCallback'],
    BluetoothAdapter: ['BluetoothAdapter.LeScanCallback', 'BluetoothProfile.ServiceListener'], BluetoothLeScanner: ['ScanCallback'], BluetoothLeAdvertiser: ['AdvertiseCallback', 'AdvertisingSetCallback'],
  };

  it('name callbacks that there are', () => {
    const named = new Set<string>();
    for (const each of declared.values()) {
      const owner = bare(each.name);
      for (const member of platformType('kotlin', each.name)!.members) {
        for (const name of member.completedBy ?? []) {
          named.add(`${owner}.${name}`);
          expect(callbacks[owner]?.some((type) => callbackOf(type, name) !== undefined), `${owner}.${member.name} → ${name}`).toBe(true);
        }
      }
    }
    expect(named.size).toBeGreaterThan(15);
  });

  it('hold the busy flag exactly where the framework takes it: mDeviceBusy', () => {
    const guarded = platformType('kotlin', 'BluetoothGatt')!.members.filter((member) => member.slot === 'guarded').map((member) => member.name);
    expect([...new Set(guarded)]).toEqual(['executeReliableWrite', 'readCharacteristic', 'readDescriptor', 'writeCharacteristic', 'writeDescriptor']);
    const colliding = platformType('kotlin', 'BluetoothGatt')!.members.filter((member) => member.slot === 'collides').map((member) => member.name);
    expect(colliding).toEqual(['discoverServices', 'readPhy', 'readRemoteRssi', 'requestMtu', 'setPreferredPhy']);
  });

  it('tell overloads apart', () => {
    expect(membersOf('kotlin', 'BluetoothGatt', 'writeCharacteristic').map((member) => [member.params?.length, member.answer, member.since ?? 18, member.deprecated])).toEqual([
      [1, 'accept-flag', 18, 33], [3, 'accept-status', 33, undefined],
    ]);
    expect(membersOf('kotlin', 'BluetoothLeScanner', 'startScan').map((member) => member.answer)).toEqual(['none', 'accept-status', 'none']);
  });

  it('mark the status of every callback that has one', () => {
    for (const type of ['BluetoothGattCallback', 'BluetoothGattServerCallback', 'AdvertisingSetCallback']) {
      for (const member of platformType('kotlin', type)!.members) {
        for (const param of member.params ?? []) expect(param.is === 'status', `${type}.${member.name} ${param.name}`).toBe(param.name === 'status');
      }
    }
    // The server's MTU callback has no status at all.
    expect(callbackOf('BluetoothGattServerCallback', 'onMtuChanged')?.params?.map((param) => param.is)).toEqual(['device', 'mtu']);
  });
});
