import { useEffect, useRef, useState } from 'react';

export function Weight({ device }: { device: BluetoothDevice }) {
  const [weight, setWeight] = useState(0);
  const server = useRef<BluetoothRemoteGATTServer | undefined>(undefined);

  useEffect(() => {
    const load = async () => {
      server.current = await device.gatt!.connect();
      const hive = await server.current.getPrimaryService('df070100-7563-45da-9adc-777135148d9e');
      const characteristic = await hive.getCharacteristic('df070101-7563-45da-9adc-777135148d9e');
      setWeight((await characteristic.readValue()).getUint32(0, true));
    };
    load().catch(console.error);
    return () => server.current?.disconnect();
  }, [device]);

  return <p>{weight}</p>;
}
