export function read(weight: BluetoothRemoteGATTCharacteristic) {
  return new Promise<DataView>((resolve, reject) => {
    weight.readValue().then(value => {
      if (value.byteLength === 0) reject(new Error('empty'));
      else resolve(value);
    }).catch(reject);
  });
}

export function readAsync(weight: BluetoothRemoteGATTCharacteristic) {
  return new Promise<DataView>(async resolve => {
    const value = await weight.readValue();
    resolve(value);
  });
}

export function readWell(weight: BluetoothRemoteGATTCharacteristic) {
  return new Promise<DataView>(async (resolve, reject) => {
    try {
      resolve(await weight.readValue());
    } catch (error) {
      reject(error);
    }
  });
}

export function firstValue(weight: BluetoothRemoteGATTCharacteristic) {
  return new Promise<DataView>((resolve, reject) => {
    weight.addEventListener('characteristicvaluechanged', () => resolve(weight.value!), { once: true });
    weight.startNotifications().catch(reject);
  });
}
