import { call, takeLeading } from 'redux-saga/effects';

function* connect(device: BluetoothDevice): Generator<unknown, void, any> {
  const server = yield device.gatt!.connect();
  const service: BluetoothRemoteGATTService = yield server.getPrimaryService('battery_service');
  const battery: BluetoothRemoteGATTCharacteristic = yield call(() => service.getCharacteristic('battery_level'));
  yield call(() => battery.startNotifications());
  yield call(() => battery.readValue());
  yield call([battery, 'readValue']);
}

export function* root() {
  yield takeLeading('CONNECT', connect as any);
}
