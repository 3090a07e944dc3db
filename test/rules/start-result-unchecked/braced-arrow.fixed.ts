/** In braces and without `return`, a promise is no part of the chain. */
export function subscribe(weight: BluetoothRemoteGATTCharacteristic, signal: BluetoothRemoteGATTCharacteristic) {
  return weight.startNotifications()
    .then(() => { return signal.startNotifications(); })
    .catch(report);
}

export function retry(weight: BluetoothRemoteGATTCharacteristic) {
  return weight.readValue().catch(() => { weight.readValue(); });
}

export function retryUnseen(weight: BluetoothRemoteGATTCharacteristic) {
  weight.readValue().catch(() => weight.readValue());
}

export function chained(weight: BluetoothRemoteGATTCharacteristic, signal: BluetoothRemoteGATTCharacteristic) {
  return weight.startNotifications()
    .then(() => signal.startNotifications())
    .then(() => { return signal.readValue(); })
    .catch(report);
}

export function retried(weight: BluetoothRemoteGATTCharacteristic) {
  weight.readValue().catch(() => weight.readValue()).catch(report);
}

function report(error: unknown) {
  console.error(error);
}
