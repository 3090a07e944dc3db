/** Look-ups by name: types, members, callbacks, constants, functions. That the data are right is tested beside this. */
import { describe, expect, it } from 'vitest';
import {
  aliasedType, callbackOf, constantOf, constructorsOf, functionsNamed, getterOf, globalType, isPlatformType, membersOf, platformType, settersOf,
} from '../../server/catalogue/index.js';

describe('types', () => {
  it('are found by their bare, qualified, nested and other names', () => {
    expect(platformType('kotlin', 'BluetoothGatt')?.qualified).toBe('android.bluetooth.BluetoothGatt');
    expect(platformType('kotlin', 'android.bluetooth.BluetoothGatt')).toBe(platformType('kotlin', 'BluetoothGatt'));
    expect(platformType('kotlin', 'ScanSettings.Builder')?.qualified).toBe('android.bluetooth.le.ScanSettings.Builder');
    expect(platformType('kotlin', 'LinkedBlockingQueue')?.name).toBe('BlockingQueue');
    expect(platformType('kotlin', 'HiveGatt')).toBeUndefined();
  });

  it('of one name are told apart by the language; Android classes are reached from TypeScript by their qualified name', () => {
    expect(platformType('kotlin', 'BluetoothDevice')?.qualified).toBe('android.bluetooth.BluetoothDevice');
    expect(platformType('typescript', 'BluetoothDevice')?.qualified).toBe('BluetoothDevice');
    expect(platformType('typescript', 'android.bluetooth.BluetoothGatt')).toBe(platformType('kotlin', 'BluetoothGatt'));
    expect(isPlatformType('typescript', 'BluetoothGatt')).toBe(false);
    expect(isPlatformType('kotlin', 'Navigator')).toBe(false);
  });

  it('tell what they extend and their parameters', () => {
    expect(platformType('kotlin', 'CompletableDeferred')).toMatchObject({ typeParams: ['T'], supertypes: ['Deferred<T>'] });
    expect(constructorsOf('kotlin', 'CompletableDeferred').every((each) => each.result === 'CompletableDeferred<T>')).toBe(true);
  });
});

describe('members', () => {
  it('stand behind Kotlin properties as getter and setters', () => {
    expect(getterOf('kotlin', 'BluetoothGatt', 'services')?.result).toBe('list<BluetoothGattService>');
    expect(settersOf('kotlin', 'BluetoothGattCharacteristic', 'value').map((member) => member.params?.[0]?.type)).toEqual(['bytes', 'string']);
    expect(getterOf('kotlin', 'BluetoothGattCharacteristic', 'value')?.result).toBe('bytes?');
    expect(settersOf('kotlin', 'BluetoothGattCharacteristic', 'writeType').map((member) => member.name)).toEqual(['setWriteType']);
    expect(getterOf('kotlin', 'BluetoothAdapter', 'isEnabled')?.result).toBe('boolean');
    expect(getterOf('typescript', 'BluetoothRemoteGATTServer', 'connected')?.result).toBe('boolean');
    expect(getterOf('kotlin', 'BluetoothGatt', 'discoverServices')).toBeUndefined();
    expect(getterOf('kotlin', 'BluetoothGatt', 'GATT_SUCCESS')?.value).toBe(0);
    expect(membersOf('kotlin', 'BluetoothGatt', 'service').map((member) => member.name)).toEqual([]);
  });

  it('are inherited, the nearest first, an overridden one once', () => {
    expect(membersOf('kotlin', 'BluetoothGatt', 'getConnectedDevices')).toHaveLength(1);
    expect(constantOf('kotlin', 'BluetoothGatt', 'STATE_CONNECTED')?.value).toBe(2);
    expect(membersOf('kotlin', 'Channel', 'receive')[0]).toMatchObject({ result: 'E', sync: 'waits' });
    expect(membersOf('typescript', 'BluetoothDevice', 'dispatchEvent')[0]?.result).toBe('boolean');
    expect(membersOf('kotlin', 'BluetoothGatt', 'refresh')).toEqual([]);
  });

  it('that callbacks override are told apart by the number of parameters', () => {
    expect(callbackOf('BluetoothGattCallback', 'onCharacteristicRead', 4)?.since).toBe(33);
    expect(callbackOf('BluetoothGattCallback', 'onCharacteristicRead', 3)?.deprecated).toBe(33);
    expect(callbackOf('BluetoothGattCallback', 'onCharacteristicRead', 5)).toBeUndefined();
    expect(callbackOf('BluetoothGattCallback', 'onMtuChanged')?.params?.map((param) => param.is)).toEqual(['link', 'mtu', 'status']);
    expect(callbackOf('BluetoothGatt', 'connect')).toBeUndefined();
  });

  it('may have type parameters of their own', () => {
    expect(membersOf('kotlin', 'Activity', 'getSystemService').map((member) => [member.typeParams, member.result])).toEqual([[undefined, 'any?'], [['T'], 'T'], [['T'], 'T?']]);
  });
});

describe('what stands outside of types', () => {
  it('functions, aliases, globals', () => {
    expect(functionsNamed('kotlin', 'mutableListOf')[0]).toMatchObject({ typeParams: ['T'], result: 'list<T>' });
    expect(functionsNamed('typescript', 'setTimeout')[0]?.result).toBe('number');
    expect(functionsNamed('typescript', 'mutableListOf')).toEqual([]);
    expect(aliasedType('typescript', 'BluetoothServiceUUID')).toBe('number | string');
    expect(globalType('typescript', 'navigator')).toBe('Navigator');
    expect(globalType('kotlin', 'navigator')).toBeUndefined();
  });
});
