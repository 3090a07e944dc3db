/**
 * Where a UUID is seen in sources, in every spelling, and where a number or a name is none. `‸` stands behind the first
 * letter of what is pointed at. Assigned UUIDs: Bluetooth SIG, Assigned Numbers 3.4, 3.7, 3.8.
 */
import { describe, expect, it } from 'vitest';
import { uuidInSource } from '../../server/lsp/uuid-at.js';
import { linking } from '../../server/project/checker.js';

const BATTERY_SERVICE = '0000180f-0000-1000-8000-00805f9b34fb';
const BATTERY_LEVEL = '00002a19-0000-1000-8000-00805f9b34fb';
const CCCD = '00002902-0000-1000-8000-00805f9b34fb';
const OWN = '8f2d6c1e-4b5a-4c39-9e77-2a61d0b3f5a4';

/** The UUID at the mark, and the text it is said of. */
function at(path: string, marked: string): { uuid: string; text: string } | undefined {
  const offset = marked.indexOf('‸') - 1;
  const text = marked.replace('‸', '');
  const file = linking.lower(text, path)!;
  const place = uuidInSource(file, offset, linking.resolver(linking.link([file])).constants);
  return place && { uuid: place.uuid, text: text.slice(place.at.start, place.at.end) };
}

describe('Kotlin', () => {
  const kotlin = (marked: string) => at('/app/HiveLink.kt', `import java.util.UUID\nimport android.bluetooth.*\n${marked}\n`);

  it('sees 128-bit text', () => {
    expect(kotlin(`val service = UUID.fromString("8‸f2d6c1e-4b5a-4c39-9e77-2a61d0b3f5a4")`)).toEqual({ uuid: OWN, text: `"${OWN}"` });
  });
  it('sees the call that makes one', () => {
    expect(kotlin(`val service = UUID.f‸romString("8F2D6C1E-4B5A-4C39-9E77-2A61D0B3F5A4")`)?.uuid).toBe(OWN);
  });
  it('sees a constant’s name where it is declared and where it is used', () => {
    const declared = `val S‸ERVICE: UUID = UUID.fromString("${OWN}")\nfun of(gatt: BluetoothGatt) = gatt.getService(SERVICE)`;
    expect(kotlin(declared)).toEqual({ uuid: OWN, text: 'SERVICE' });
    expect(kotlin(declared.replace('‸', '').replace('(SERVICE', '(S‸ERVICE'))).toEqual({ uuid: OWN, text: 'SERVICE' });
  });
  it('sees one in a companion, by its qualified name', () => {
    expect(kotlin(`object Hive { val CCCD: UUID = UUID.fromString("00002902-0000-1000-8000-00805f9b34fb") }\nval c = Hive.C‸CCD`)?.uuid).toBe(CCCD);
  });
  it('sees the result of a helper that makes them from short numbers', () => {
    const helper = `fun short(n: Int): UUID = UUID.fromString("0000%04x-0000-1000-8000-00805f9b34fb".format(n))\nval battery = s‸hort(0x180F)`;
    expect(kotlin(helper)?.uuid).toBe(BATTERY_SERVICE);
  });
  it('sees no UUID in a variable, a number, a call that takes one, or the code around', () => {
    expect(kotlin(`var s‸ervice = UUID.fromString("${OWN}")`)).toBeUndefined();
    expect(kotlin(`val pause = 0‸x180F`)).toBeUndefined();
    expect(kotlin(`val SERVICE: UUID = UUID.fromString("${OWN}")\nfun of(gatt: BluetoothGatt) = gatt.g‸etService(SERVICE)`)).toBeUndefined();
    expect(kotlin(`f‸un of() { UUID.fromString("${OWN}") }`)).toBeUndefined();
    expect(kotlin(`val words = "n‸ot a uuid"`)).toBeUndefined();
  });
});

describe('TypeScript', () => {
  const typescript = (marked: string) => at('/web/battery.ts', `export async function run(server: BluetoothRemoteGATTServer, service: BluetoothRemoteGATTService) {\n${marked}\n}\n`);

  it('sees a number where a UUID is expected', () => {
    expect(typescript('await server.getPrimaryService(0‸x180f);')).toEqual({ uuid: BATTERY_SERVICE, text: '0x180f' });
  });
  it('sees a standard name where a UUID is expected', () => {
    expect(typescript(`await service.getCharacteristic('b‸attery_level');`)?.uuid).toBe(BATTERY_LEVEL);
  });
  it('sees 128-bit text anywhere', () => {
    expect(typescript(`const own = '8‸f2d6c1e-4b5a-4c39-9e77-2a61d0b3f5a4';`)?.uuid).toBe(OWN);
  });
  it('sees a constant’s name', () => {
    expect(typescript(`const LEVEL = '${BATTERY_LEVEL}';\nawait service.getCharacteristic(L‸EVEL);`)).toEqual({ uuid: BATTERY_LEVEL, text: 'LEVEL' });
  });
  it('sees a service among those that the chooser is asked for', () => {
    expect(typescript('await navigator.bluetooth.requestDevice({ filters: [{ services: [0‸x180f] }] });')?.uuid).toBe(BATTERY_SERVICE);
  });
  it('sees no UUID in a bare number or word', () => {
    expect(typescript('setTimeout(() => undefined, 0‸x180f);')).toBeUndefined();
    expect(typescript(`console.log('b‸attery_level');`)).toBeUndefined();
  });
});
