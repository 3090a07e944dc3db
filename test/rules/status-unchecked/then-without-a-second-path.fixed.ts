export function open(device: BluetoothDevice, show: (text: string) => void) {
  device.gatt!.connect()
    .then(server => server.getPrimaryService('weight_scale'))
    .then(service => service.getCharacteristic('weight_measurement'))
    .then(weight => weight.readValue())
    .then(value => show(String(value.getUint8(0))))
    .catch(onGattFailure);
}

export function openWell(device: BluetoothDevice, show: (text: string) => void) {
  device.gatt!.connect()
    .then(server => server.getPrimaryService('weight_scale'))
    .then(service => service.getCharacteristic('weight_measurement'))
    .then(weight => weight.readValue())
    .then(value => show(String(value.getUint8(0))))
    .catch(error => show(String(error)));
}

export function choose(show: (text: string) => void) {
  navigator.bluetooth.requestDevice({ acceptAllDevices: true })
    .then(device => device.gatt!.connect())
    .then(() => show('connected'));
}
