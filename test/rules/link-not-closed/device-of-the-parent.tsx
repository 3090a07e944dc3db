import { useEffect, useState } from 'react';

/** The device is a property: the component around may let it go when it goes. */
export function Weight({ device }: { device: BluetoothDevice }) {
  const [weight, setWeight] = useState(0);

  useEffect(() => {
    const load = async () => {
      const server = await device.gatt!.connect();
      const hive = await server.getPrimaryService('df070100-7563-45da-9adc-777135148d9e');
      const characteristic = await hive.getCharacteristic('df070101-7563-45da-9adc-777135148d9e');
      setWeight((await characteristic.readValue()).getUint32(0, true));
    };
    load().catch(console.error);
  }, [device]);

  return <p>{weight}</p>;
}
