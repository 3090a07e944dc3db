/**
 * Reading device profiles: what is kept, and what is said about the rest, at which place. Bounds are those of the Core
 * Specification and of AOSP's constants, named beside each case; words are compared letter by letter, because users read them.
 */
import { readFileSync } from 'node:fs';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { readProfile } from '../../server/profile/read.js';
import { mark, unmark } from './marked.js';

const example = readFileSync(new URL('examples/hive-scale.device.yaml', import.meta.url), 'utf8');
const SERVICE = '8be5adee-ce37-4b32-a8af-1faad64abb2f';

/** One characteristic with these keys in a service, as flow YAML. */
const characteristic = (keys: string): string => `services: [{ uuid: ${SERVICE}, characteristics: [{ uuid: 8be5adef-ce37-4b32-a8af-1faad64abb2f, ${keys} }] }]`;

interface Case {
  readonly why: string;
  readonly yaml: string;
  /** Severity and message of each problem, in the order of the marked places. */
  readonly says: readonly string[];
}

describe('a good profile', () => {
  it('has no problems, and all of it is read', () => {
    const { profile, problems } = readProfile(example, 'hive-scale.device.yaml');
    expect(problems).toEqual([]);
    expect(profile).toBeDefined();
    if (profile === undefined) return;
    expect(profile.device.name?.value).toBe('Hive scale HS-2');
    expect([profile.targets.android?.minimum?.value, profile.targets.android?.target?.value]).toEqual([24, 35]);
    expect(profile.targets.browser?.minimum.map(({ name, version }) => [name, version])).toEqual([['chrome', 122]]);
    expect(profile.targets.browser?.platforms.map(({ value }) => value)).toEqual(['android', 'windows']);
    expect([profile.link.requestedMtu?.value, profile.link.negotiatedMtu?.value, profile.link.peripherals?.value]).toEqual([517, 247, 3]);
    expect(profile.services.map(({ name, uuid, characteristics }) => [name?.value, uuid?.value, characteristics.length])).toEqual([
      ['Scale', '8be5adee-ce37-4b32-a8af-1faad64abb2f', 3],
      ['Climate', '0000181a-0000-1000-8000-00805f9b34fb', 2],
      ['Firmware', '66c2491c-1623-4601-ac3e-2d9a08b9aba4', 2],
    ]);
    const [weight, tare, history] = profile.services[0]?.characteristics ?? [];
    expect(weight?.properties?.map(({ value }) => value)).toEqual(['read', 'notify']);
    expect(weight?.size).toMatchObject({ minimum: 4, maximum: 4 });
    expect(weight?.descriptors?.map(({ uuid }) => uuid?.value)).toEqual(['00002902-0000-1000-8000-00805f9b34fb', '00002901-0000-1000-8000-00805f9b34fb']);
    expect(tare?.security.write.map(({ value }) => value)).toEqual(['authentication']);
    expect(history?.size).toMatchObject({ minimum: 8, maximum: 182 });
    const [chunk] = profile.services[2]?.characteristics ?? [];
    expect(chunk?.size).toMatchObject({ minimum: 0, maximum: 244 });
    expect(chunk?.security.write.map(({ value }) => value)).toEqual(['authentication', 'authorization']);
    expect(profile.queue?.functions.map(({ name }) => name)).toEqual(['OperationQueue.enqueue']);
    expect(profile.teardown?.functions.map(({ name }) => name)).toEqual(['HiveLink.close', 'ScaleSession.end']);
    expect(profile.wrappers.map(({ name, does }) => [name, does.map(({ value }) => value)])).toEqual([
      ['HiveLink.send', ['starts-operation', 'writes-value']],
      ['HiveLink.watch', ['subscribes']],
    ]);
  });

  it('knows where each statement stands', () => {
    const { profile } = readProfile(example, 'hive-scale.device.yaml');
    const at = (place: { readonly start: number; readonly end: number } | undefined): string => example.slice(place?.start, place?.end);
    const weight = profile?.services[0]?.characteristics[0];
    expect(at(profile?.targets.android?.minimum?.at)).toBe('24');
    expect(at(profile?.link.negotiatedMtu?.at)).toBe('247');
    expect(at(weight?.uuid?.at)).toBe('8be5adef-ce37-4b32-a8af-1faad64abb2f');
    expect(at(weight?.properties?.[1]?.at)).toBe('notify');
    expect(at(weight?.descriptors?.[0]?.uuid?.at)).toBe('2902');
    expect(at(profile?.queue?.functions[0]?.span)).toBe('OperationQueue.enqueue');
    expect(at(profile?.wrappers[1]?.span)).toBe('HiveLink.watch');
    expect(at(profile?.wrappers[1]?.does[0]?.at)).toBe('subscribes');
    expect(at(weight?.at)).toMatch(/^name: Weight[^]*maximum: 24 \}\s*$/);
  });

  it.each([
    ['CRLF line ends', example.replaceAll('\n', '\r\n')],
    ['a byte order mark', `\uFEFF${example}`],
    ['a document mark', `---\n${example}`],
  ])('may have %s', (_, text) => {
    const { profile, problems } = readProfile(text, 'p');
    expect(problems).toEqual([]);
    const uuid = profile?.services[0]?.uuid;
    expect(text.slice(uuid?.at.start, uuid?.at.end)).toBe(SERVICE);
  });

  it('may repeat a part by an alias', () => {
    const { profile, problems } = readProfile(
      `services:\n  - uuid: ${SERVICE}\n    characteristics:\n      - { uuid: 0x2A6E, size: &two { maximum: 2 }, security: { read: encryption } }\n      - { uuid: 0x2A6F, size: *two }\n`, 'p');
    expect(problems).toEqual([]);
    expect(profile?.services[0]?.characteristics.map(({ size }) => size?.maximum)).toEqual([2, 2]);
  });
});

const SYNTAX: readonly Case[] = [
  { why: 'nothing in it', yaml: '«»# only a remark\n', says: ['warning: This device profile is empty.'] },
  { why: 'a list in place of keys', yaml: '- «a»\n', says: ['error: A device profile must be a group of keys; this is a list. Leave out the dashes.'] },
  { why: 'a word in place of keys', yaml: '«beehive»', says: ['error: A device profile must be a group of keys; this is text.'] },
  { why: 'a tab as indentation', yaml: 'device:\n«\t»name: Hive\n', says: ['error: YAML does not allow tabs as indentation; use spaces.'] },
  { why: 'an open string', yaml: 'device: { name: "Hive }«\n»', says: ['error: A closing " is missing.', 'error: A closing } is missing.'] },
  { why: 'an open bracket', yaml: 'queue: [Queue.add«\n»', says: ['error: A closing ] is missing.'] },
  { why: 'a key out of column', yaml: 'device:\n  name: Hive\n« »maker: Waben\n', says: ['error: This key does not begin at the same column as its neighbours.'] },
  { why: 'two keys on a line', yaml: 'device: «n»ame: Hive\n', says: ['error: A second key on the same line; begin a new line, or put the value in quotes.'] },
  { why: 'a key twice', yaml: 'device: { name: Hive, «name»: Scale }', says: ['error: The key "name" stands here twice; only the first one counts.'] },
  { why: 'a key that is a list', yaml: '? «[a]»\n: 1\n', says: ['error: A key must be plain text.'] },
  { why: 'an alias without its anchor', yaml: 'device: { name: «*hive» }', says: ['error: No anchor "&hive" stands before this.'] },
  { why: 'an alias inside its own anchor', yaml: 'queue: &q [«*q»]', says: ['error: No anchor "&q" stands before this.'] },
  { why: 'a second document', yaml: 'device: { name: Hive }\n«-»--\ndevice: { name: Scale }\n', says: ['error: A profile is one YAML document; what follows this line is not read.'] },
  { why: 'a tag nobody knows', yaml: 'device: { name: «!hive» x }', says: ['warning: Unresolved tag: !hive.'] },
];

const FORMAT: readonly Case[] = [
  { why: 'an unknown key at the top', yaml: '«servics»: []', says: ['warning: "servics" is no key of a device profile. Did you mean "services"?'] },
  { why: 'an unknown key far from any other', yaml: 'device: { «colour»: yellow }', says: ['warning: "colour" is no key of the device. Its keys are name, maker, company, description.'] },
  { why: 'a key of JavaScript', yaml: '«__proto__»: { a: 1 }\n«constructor»: 1', says: [
    'warning: "__proto__" is no key of a device profile. Its keys are device, targets, link, services, queue, teardown, wrappers.',
    'warning: "constructor" is no key of a device profile. Its keys are device, targets, link, services, queue, teardown, wrappers.'] },
  { why: 'a merge key, which YAML 1.2 does not have', yaml: 'device: { «<<»: { name: Hive } }', says: ['warning: "<<" is no key of the device. Its keys are name, maker, company, description.'] },
  { why: 'a number for a name', yaml: 'device: { name: «3» }', says: ['error: "name" must be text; this is a number. Put it in quotes.'] },
  { why: 'a name without a value', yaml: 'device:\n  «name»:\n  maker: Waben\n', says: ['warning: "name" has no value yet.'] },
  { why: 'a number for a group', yaml: 'targets: { android: «24» }', says: ['error: "android" must be a group of keys; this is a number.'] },
  { why: 'a fraction for a level', yaml: 'targets: { android: { minimum: «24.5» } }', says: ['error: "minimum" must be a whole number; this is a fraction.'] },
  { why: 'a version in quotes', yaml: 'targets: { browser: { minimum: { chrome: «"122"» } } }', says: ['error: "chrome" must be a whole number; this is text.'] },
  { why: 'a mistyped platform', yaml: 'targets: { browser: { platforms: [«andriod»] } }', says: ['error: "andriod" is not a platform. Did you mean "android"?'] },
  // AOSP GATT_DEF_BLE_MTU_SIZE 23 and GATT_MAX_MTU_SIZE 517.
  { why: 'an ATT_MTU below the least', yaml: 'link: { att_mtu: { requested: «22» } }', says: ['error: 22 is below 23, the ATT_MTU with which every LE link begins.'] },
  { why: 'an ATT_MTU above the greatest', yaml: 'link: { att_mtu: { negotiated: «518» } }', says: ['error: 518 is above 517, the largest ATT_MTU that Android takes.'] },
  { why: 'no peripheral at all', yaml: 'link: { peripherals: «0» }', says: ['error: 0 is below 1.'] },
  { why: 'an empty list of services', yaml: '«services»: []', says: ['warning: "services" is an empty list.'] },
  { why: 'an entry without a value', yaml: 'services:\n  «-»\n', says: ['warning: This entry is empty.'] },
  { why: 'a service without keys', yaml: 'services: [«{}»]', says: ['error: A service needs a "uuid".'] },
  { why: 'a service without UUID', yaml: 'services:\n  - «name»: Scale\n', says: ['error: A service needs a "uuid".'] },
  { why: 'services without dashes', yaml: `«services»:\n  uuid: ${SERVICE}\n`, says: ['error: "services" must be a list; this is a group of keys. Begin each entry with a dash.'] },
  { why: 'an empty list of characteristics', yaml: `services: [{ uuid: ${SERVICE}, «characteristics»: [] }]`, says: ['warning: "characteristics" is an empty list.'] },
  { why: 'a property in other words', yaml: characteristic('properties: [«writeWithoutResponse», «Notify», «signed write», «encrypt»]'), says: [
    'error: "writeWithoutResponse" is not a characteristic property. Did you mean "write without response"?',
    'error: "Notify" is not a characteristic property. Did you mean "notify"?',
    'error: "signed write" is not a characteristic property. Did you mean "authenticated signed writes"?',
    'error: "encrypt" is not a characteristic property. Choose from: broadcast, read, write without response, write, notify, indicate, authenticated signed writes, extended properties.'] },
  { why: 'a property twice', yaml: characteristic('properties: [read, write, «read»]'), says: ['warning: "read" stands in this list twice.'] },
  // The longest attribute value is 512 octets: Core Specification Vol 3 Part F; AOSP GATT_MAX_ATTR_LEN.
  { why: 'a value too long', yaml: characteristic('size: «513»'), says: ['error: 513 is above 512, the longest value that an attribute can hold.'] },
  { why: 'a value too long at most', yaml: characteristic('size: { maximum: «600» }'), says: ['error: 600 is above 512, the longest value that an attribute can hold.'] },
  { why: 'a negative size', yaml: characteristic('size: «-1»'), says: ['error: -1 is below 0.'] },
  { why: 'a size in words', yaml: characteristic('size: «four»'), says: ['error: "size" must be a whole number or a group of keys; this is text.'] },
  { why: 'bounds the wrong way round', yaml: characteristic('size: { minimum: «20», maximum: 4 }'), says: ['error: The shortest value, 20 bytes, is longer than the longest, 4.'] },
  { why: 'a mistyped requirement', yaml: characteristic('properties: [read, write], security: { read: «encrypted», write: [«autentication»] }'), says: [
    'error: "encrypted" is not a security requirement. Did you mean "encryption"?',
    'error: "autentication" is not a security requirement. Did you mean "authentication"?'] },
  { why: 'a requirement that is a group', yaml: characteristic('properties: [read], security: { «read»: { level: 2 } }'), says: ['error: A security requirement is a single word; this is a group of keys.'] },
  { why: 'a queue that is no list', yaml: 'queue: «Queue.add»', says: ['error: "queue" must be a list; this is text. Put it in square brackets.'] },
  { why: 'malformed functions', yaml: 'queue: [«Queue.add()», «Queue#add», "«Queue add»", «.add», «Queue::add», «3»]', says: [
    'error: "Queue.add()" is not the name of a function: leave out the parentheses.',
    'error: "Queue#add" is not the name of a function: write a dot between the class and the function.',
    'error: "Queue add" is not the name of a function: it may hold no spaces.',
    'error: ".add" is not the name of a function: a part before or after a dot is missing.',
    'error: "Queue::add" is not the name of a function: write a dot between the class and the function.',
    'error: A function must be text; this is a number. Put it in quotes.'] },
  { why: 'a wrapper with an unknown role', yaml: 'wrappers: { Link.send: «starts-opration», «Link.ask()»: reads-value, «Link.wait»: }', says: [
    'error: "starts-opration" is not a role. Did you mean "starts-operation"?',
    'error: "Link.ask()" is not the name of a function: leave out the parentheses.',
    'warning: "Link.wait" has no value yet.'] },
];

const SPELLING: readonly Case[] = [
  { why: 'a letter that is no digit', yaml: 'services: [{ uuid: 0x29«G»2 }]', says: ['error: "G" is not a hexadecimal digit.'] },
  { why: 'an O for a zero', yaml: 'services: [{ uuid: 8be5adee-ce37-4b32-a8af-1faad64abb2«O» }]', says: ['error: "O" is not a hexadecimal digit; a zero, perhaps.'] },
  { why: 'an l for a one, in quotes', yaml: "services: [{ uuid: '8be5adee-ce37-4b32-a8af-«l»faad64abb2f' }]", says: ['error: "l" is not a hexadecimal digit; a one, perhaps.'] },
  { why: 'an escape in quotes, so all of it is marked', yaml: 'services: [{ uuid: «"29\\u00302G"» }]', says: ['error: "G" is not a hexadecimal digit.'] },
  { why: 'too few digits', yaml: 'services: [{ uuid: «0x290» }]', says: ['error: A UUID has 4, 8 or 32 hexadecimal digits; this has 3.'] },
  { why: 'a digit lost in a group', yaml: 'services: [{ uuid: 8be5adee-ce37-«4b3»-a8af-1faad64abb2f }]', says: ['error: Group 3 of this UUID has 3 digits instead of 4.'] },
  { why: 'a group lost', yaml: 'services: [{ uuid: «8be5adee-ce37-4b32-1faad64abb2f» }]', says: ['error: A long UUID has five groups of 8, 4, 4, 4 and 12 digits; this has 4.'] },
  { why: 'a name', yaml: 'services: [{ uuid: «heart_rate» }]', says: ['error: "heart_rate" is not hexadecimal. A UUID is written as 4, 8 or 32 hexadecimal digits.'] },
  { why: 'a key typed and not yet filled', yaml: 'services:\n  - «uuid»:\n', says: ['error: "uuid" has no value yet.'] },
  { why: 'a list for a UUID', yaml: 'services: [{ «uuid»: [2902] }]', says: ['error: "uuid" must be a UUID; this is a list.'] },
  { why: 'a truth value for a UUID', yaml: 'services: [{ uuid: «true» }]', says: ['error: "true" is not hexadecimal. A UUID is written as 4, 8 or 32 hexadecimal digits.'] },
  { why: 'a company identifier in decimal', yaml: 'device: { company: «76» }', says: ['error: A company identifier has 4 hexadecimal digits; this has 2.'] },
];

const SENSE: readonly Case[] = [
  { why: 'a minimum above the target', yaml: 'targets: { android: { minimum: «35», target: 34 } }', says: ['error: The oldest API level, 35, is newer than the target, 34.'] },
  // android.bluetooth.BluetoothGatt: API level 18.
  { why: 'a release number for an API level', yaml: 'targets: { android: { minimum: «8», target: 35 } }', says: ['warning: API level 8 is older than 18 (Android 4.3), the first with Bluetooth LE. The number is an API level, not an Android release.'] },
  // AOSP GATTC_ConfigureMTU: the app's own figure goes on the air up to Android 13, 517 from 14 (API level 34) on.
  { why: 'more negotiated than requested', yaml: 'link: { att_mtu: { requested: 100, negotiated: «185» } }', says: ['hint: Up to Android 13 the exchange ends with no more than the app asks for, 100; 185 is reached only from Android 14 on.'] },
  { why: 'more negotiated than requested, from Android 14 on', yaml: 'targets: { android: { minimum: 34 } }\nlink: { att_mtu: { requested: 100, negotiated: 185 } }', says: [] },
  { why: 'a characteristic twice, spelled differently', yaml: `services: [{ uuid: ${SERVICE}, characteristics: [{ uuid: 2a6e }, { uuid: «00002A6E-0000-1000-8000-00805F9B34FB» }] }]`, says: ['warning: The characteristic 0x2A6E stands in this service twice; a look-up by UUID yields the first one only.'] },
  { why: 'a characteristic in two services', yaml: `services: [{ uuid: ${SERVICE}, characteristics: [{ uuid: 2a6e }] }, { uuid: 181A, characteristics: [{ uuid: 2a6e }] }]`, says: [] },
  { why: 'a service twice, which GATT allows', yaml: `services: [{ uuid: ${SERVICE} }, { uuid: «${SERVICE}» }]`, says: [`hint: The service ${SERVICE} stands here twice. GATT allows that; a look-up by UUID then yields the first one only.`] },
  { why: 'a descriptor twice', yaml: characteristic('properties: [notify], descriptors: [{ uuid: 2902 }, { uuid: «0x2902» }]'), says: ['warning: The descriptor 0x2902 stands in this characteristic twice.'] },
  // AOSP BluetoothGattDescriptor: the CCCD's two bits switch notifications and indications.
  { why: 'notifications without a switch', yaml: characteristic('name: Weight, properties: [read, «notify»], descriptors: [{ uuid: 2901 }]'), says: ['warning: The descriptors of "Weight" are listed without 0x2902, by which a client turns notifications on.'] },
  { why: 'notifications, descriptors not listed', yaml: characteristic('properties: [notify]'), says: [] },
  { why: 'a switch without notifications', yaml: characteristic('name: Tare, properties: [write], descriptors: [{ uuid: «2902» }]'), says: ['warning: 0x2902 turns notifications and indications on, and "Tare" has neither property.'] },
  { why: 'write security on what nobody writes', yaml: characteristic('name: Weight, properties: [read], security: { write: «encryption» }'), says: ['warning: Writing is secured, and "Weight" has no property by which it can be written.'] },
  { why: 'read security on what nobody reads', yaml: characteristic('name: Tare, properties: [write], security: { read: «encryption» }'), says: ['warning: Reading is secured, and "Tare" has no property "read".'] },
  { why: 'security on what has no stated properties', yaml: characteristic('security: { read: encryption, write: encryption }'), says: [] },
  { why: '"none" beside a requirement', yaml: characteristic('properties: [read], security: { read: [encryption, «none»] }'), says: ['warning: "none" stands beside a requirement; leave one of them out.'] },
  // The base UUID belongs to the Bluetooth SIG; 0xFFE0 and 0xABCD are assigned to nobody.
  { why: 'a UUID of the base range taken without asking', yaml: 'services: [{ uuid: «0xFFE0» }, { uuid: «0000abcd-0000-1000-8000-00805f9b34fb» }]', says: [
    'hint: 0xFFE0 is not among the assigned numbers. Short UUIDs belong to the Bluetooth SIG; a service of your own needs a random 128-bit UUID.',
    'hint: 0xABCD is not among the assigned numbers. Short UUIDs belong to the Bluetooth SIG; a service of your own needs a random 128-bit UUID.'] },
  { why: 'a number for member companies, of which no table is at hand', yaml: 'services: [{ uuid: 0xFE00 }]', says: [] },
  { why: "a characteristic's number for a service", yaml: 'services: [{ uuid: «0x2A19» }]', says: ['warning: 0x2A19 is assigned to the characteristic "Battery Level", not to a service.'] },
  // Blocklist of the Web Bluetooth registries: 0x2A25 "all".
  { why: 'what browsers withhold', yaml: 'targets: { browser: { minimum: { chrome: 122 } } }\nservices: [{ uuid: 180A, characteristics: [{ uuid: «2A25» }] }]', says: ['warning: Browsers withhold the characteristic 0x2A25 (Serial Number String) from every page.'] },
  { why: 'what browsers withhold, without a browser', yaml: 'services: [{ uuid: 180A, characteristics: [{ uuid: 2A25 }] }]', says: [] },
];

describe.each([['syntax', SYNTAX], ['format', FORMAT], ['spelling', SPELLING], ['sense', SENSE]] as const)('%s', (_, cases) => {
  it.each(cases)('$why', ({ yaml, says }) => {
    const { text, places } = unmark(yaml);
    const { problems } = readProfile(text, 'p.device.yaml');
    expect(problems.map(({ severity, message }) => `${severity}: ${message}`)).toEqual(says);
    expect(mark(text, problems.map(({ at }) => at).filter((at, index, all) => all.findIndex((other) => other.start === at.start && other.end === at.end) === index)))
      .toBe(mark(text, places));
  });
});

describe('what is wrong in one place', () => {
  it('never loses the rest', () => {
    const { text } = unmark(example.replace('0x181A', '0x181').replace('size: 4 ', 'size: 999 ').replace('[write]', '[wrte]').replace('OperationQueue.enqueue', 'OperationQueue.enqueue()'));
    const { profile, problems } = readProfile(text, 'p');
    expect(problems.filter(({ severity }) => severity === 'error')).toHaveLength(4);
    expect(profile?.services.map(({ uuid, characteristics }) => [uuid !== undefined, characteristics.length])).toEqual([[true, 3], [false, 2], [true, 2]]);
    expect(profile?.services[0]?.characteristics[0]?.size).toBeUndefined();
    expect(profile?.services[0]?.characteristics[1]?.properties).toEqual([]);
    expect(profile?.queue).toBeUndefined();
    expect(profile?.teardown?.functions).toHaveLength(2);
  });

  it('keeps what stands before a syntax error', () => {
    const { profile, problems } = readProfile(`${example}\nqueue: [`, 'p');
    expect(problems.some(({ severity }) => severity === 'error')).toBe(true);
    expect(profile?.services).toHaveLength(3);
  });

  it('is said once where an alias repeats it', () => {
    const { problems } = readProfile(`services:\n  - &one { uuid: 0x29G2 }\n  - *one\n`, 'p');
    expect(problems.map(({ message }) => message)).toEqual(['"G" is not a hexadecimal digit.']);
  });
});

describe('reading', () => {
  const holds = (text: string): void => {
    const { problems } = readProfile(text, 'p');
    const outside = problems.filter(({ at, message }) => at.start < 0 || at.end < at.start || at.end > text.length || !/[.?]$/.test(message));
    expect(outside).toEqual([]);
  };

  it('never throws on any text, and every problem lies in it', () => {
    fc.assert(fc.property(fc.string({ unit: 'binary', maxLength: 200 }), holds), { numRuns: 1000 });
    fc.assert(fc.property(fc.stringMatching(/^[-:?{}[\],&*!|>'"%@#\n\t a0x.]{0,60}$/), holds), { numRuns: 3000 });
  });

  it('never throws on a damaged profile', () => {
    const damage = fc.tuple(fc.nat(example.length), fc.nat(40), fc.constantFrom('', ' ', '\n', '\t', '"', '[', '{', '- ', ': ', '*a', '&a ', '0', '|'));
    fc.assert(fc.property(fc.array(damage, { minLength: 1, maxLength: 4 }), (cuts) => {
      holds(cuts.reduce((text, [at, length, put]) => text.slice(0, at) + put + text.slice(at + length), example));
    }), { numRuns: 500 });
  });

  it.each([
    ['brackets', '['.repeat(300_000)],
    ['dashes', '- '.repeat(100_000)],
    ['groups', '{a: '.repeat(100_000)],
    ['indentation', Array.from({ length: 900 }, (_, depth) => `${' '.repeat(depth)}a:`).join('\n')],
    ['questions', '? '.repeat(50_000)],
    ['aliases that multiply', `a0: &a0 [x]\n${Array.from({ length: 40 }, (_, i) => `a${i + 1}: &a${i + 1} [*a${i}, *a${i}, *a${i}]`).join('\n')}`],
    ['keys', Array.from({ length: 20_000 }, (_, index) => `k${index}: 1`).join('\n')],
    ['wrappers', `wrappers: {${Array.from({ length: 10_000 }, (_, index) => `k${index}: x`).join(', ')}}`],
    ['characters', '#'.repeat(600_000)],
  ])('ends soon on too many %s', (_, text) => {
    const start = performance.now();
    expect(readProfile(text, 'p').problems.length).toBeGreaterThan(0);
    expect(performance.now() - start).toBeLessThan(10_000);
  });
});
