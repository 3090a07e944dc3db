import { describe, expect, it } from 'vitest';
import { callbackOf, getterOf, membersOf, osLimit, platformType, settersOf, limitAt, expandUuid } from '../../server/catalogue/index.js';

describe('look-ups by name', () => {
  it('finds a type by its bare, qualified and nested name', () => {
    expect(platformType('kotlin', 'BluetoothGatt')?.qualified).toBe('android.bluetooth.BluetoothGatt');
    expect(platformType('kotlin', 'android.bluetooth.BluetoothGatt')).toBe(platformType('kotlin', 'BluetoothGatt'));
    expect(platformType('kotlin', 'ScanSettings.Builder')?.qualified).toBe('android.bluetooth.le.ScanSettings.Builder');
  });

  it('finds the getter and the setters behind a Kotlin property', () => {
    expect(getterOf('kotlin', 'BluetoothGatt', 'services')?.result).toBe('list<BluetoothGattService>');
    expect(settersOf('kotlin', 'BluetoothGattCharacteristic', 'value').map((member) => member.params?.[0]?.type)).toEqual(['bytes', 'string']);
    expect(membersOf('kotlin', 'BluetoothAdapter', 'isEnabled')[0]?.result).toBe('boolean');
  });

  it('tells overloaded callbacks apart by the number of parameters', () => {
    expect(callbackOf('BluetoothGattCallback', 'onCharacteristicRead', 4)?.since).toBe(33);
    expect(callbackOf('BluetoothGattCallback', 'onCharacteristicRead', 3)?.deprecated).toBe(33);
  });

  it('gives a limit and an expanded UUID', () => {
    expect(limitAt(osLimit('notification-registrations'), 19)).toBe(4);
    expect(expandUuid(0x2902)).toBe('00002902-0000-1000-8000-00805f9b34fb');
  });
});
