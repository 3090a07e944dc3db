import { Observable } from 'rxjs';

/** Whoever unsubscribes lets the scale go. */
export function weights(device: BluetoothDevice): Observable<DataView> {
  return new Observable((subscriber) => {
    const run = async () => {
      const server = await device.gatt!.connect();
      const hive = await server.getPrimaryService('df070100-7563-45da-9adc-777135148d9e');
      const weight = await hive.getCharacteristic('df070101-7563-45da-9adc-777135148d9e');
      weight.addEventListener('characteristicvaluechanged', () => weight.value && subscriber.next(weight.value));
      await weight.startNotifications();
    };
    run().catch((error: unknown) => subscriber.error(error));
    return () => device.gatt?.disconnect();
  });
}
