import { call, fork, put, takeEvery } from 'redux-saga/effects';

function* read(weight: BluetoothRemoteGATTCharacteristic): Generator {
  try {
    const value = yield call([weight, 'readValue']);
    yield put({ type: 'read', value });
    const again = yield weight.readValue();
    yield put({ type: 'read', again });
  } catch (error) {
    yield put({ type: 'failed', error });
  }
}

export function* root(weight: BluetoothRemoteGATTCharacteristic): Generator {
  yield fork(read, weight);
  yield takeEvery('read', read, weight);
}
