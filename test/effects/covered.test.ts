/** What the coverage counts as known and as given up, over small programs. */
import { describe, expect, it } from 'vitest';
import { coverageOf, type Covered } from '../../server/effects/covered.js';
import { analysisOf } from '../../server/facts/index.js';
import { lower } from '../../server/frontend/index.js';
import { link, resolver } from '../../server/resolve/index.js';

function covered(files: Readonly<Record<string, string>>): Covered {
  const lowered = Object.entries(files).map(([path, text]) => lower(text, path)!);
  const analysis = analysisOf(resolver(link(lowered)), undefined);
  return coverageOf(analysis, lowered[0]!);
}

const IMPORTS = 'import android.bluetooth.*\nimport android.content.Context\n';

describe('coverage', () => {
  it('counts a link whose holder is known, and one that goes to code outside', () => {
    const { links } = covered({
      'A.kt': `${IMPORTS}import radio.Pool
class A(private val context: Context, private val callback: BluetoothGattCallback, private val pool: Pool) {
    private var gatt: BluetoothGatt? = null
    fun keep(device: BluetoothDevice) { gatt = device.connectGatt(context, false, callback) }
    fun give(device: BluetoothDevice) { pool.adopt(device.connectGatt(context, false, callback)) }
    fun close() { gatt?.close() }
}`,
    });
    expect(links).toEqual({ known: 1, unknown: 1 });
  });

  it('counts a link as given up where what opens it is not known', () => {
    const { links, unresolved } = covered({ 'A.kt': 'import radio.Device\nfun open(device: Device) = device.connectGatt(false)' });
    expect(links).toEqual({ known: 0, unknown: 1 });
    expect(unresolved.map(({ name, count }) => [name, count])).toEqual([['connectGatt', 1]]);
  });

  it('counts operations on a library’s own types by name, once a name, and not those on the project’s own', () => {
    const { operations, unresolved } = covered({
      'A.kt': `import radio.Client
class Fake { fun readCharacteristic(id: Int) = id > 0 }
fun use(client: Client, fake: Fake) {
    client.readCharacteristic(1)
    client.readCharacteristic(2)
    client.requestMtu(185)
    fake.readCharacteristic(3)
}`,
    });
    expect(operations).toEqual({ known: 0, unknown: 3 });
    expect(unresolved.map(({ name, count, at }) => [name, count, at.path])).toEqual([['readCharacteristic', 2, 'A.kt'], ['requestMtu', 1, 'A.kt']]);
  });

  it('counts a callback that is judged, and one whose class comes from a library', () => {
    const text = (base: string): string => `${IMPORTS}class A : ${base}() {
    override fun onCharacteristicWrite(gatt: BluetoothGatt, characteristic: BluetoothGattCharacteristic, status: Int) {
        if (status == BluetoothGatt.GATT_SUCCESS) println("written")
    }
}`;
    expect(covered({ 'A.kt': text('BluetoothGattCallback') }).callbacks).toEqual({ known: 1, unknown: 0 });
    expect(covered({ 'A.kt': `import radio.QueuedCallback\n${text('QueuedCallback')}` }).callbacks).toEqual({ known: 0, unknown: 1 });
  });

  it('does not take an Android name in a page for an operation', () => {
    const { operations, unresolved } = covered({ 'a.ts': 'export const go = (radio: any) => radio.readCharacteristic(1) || radio.startNotifications();' });
    expect(unresolved.map(({ name }) => name)).toEqual(['startNotifications']);
    expect(operations).toEqual({ known: 0, unknown: 1 });
  });
});
