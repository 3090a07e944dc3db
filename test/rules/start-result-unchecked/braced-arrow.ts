/** In braces and without `return`, a promise is no part of the chain. */
export function subscribe(weight: BluetoothRemoteGATTCharacteristic, signal: BluetoothRemoteGATTCharacteristic) {
  return weight.startNotifications()
    .then(() => { signal.startNotifications(); }) //! start-result-unchecked warning
    .catch(report);
}

export function retry(weight: BluetoothRemoteGATTCharacteristic) {
  return weight.readValue().catch(() => { weight.readValue(); }); //! start-result-unchecked warning
}

export function retryUnseen(weight: BluetoothRemoteGATTCharacteristic) {
  weight.readValue().catch(() => weight.readValue()); //! start-result-unchecked warning
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
