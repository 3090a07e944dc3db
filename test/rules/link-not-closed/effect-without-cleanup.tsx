import { useEffect, useState } from 'react';

/** The component goes, and nothing disconnects what its effect has connected. */
export function Weight() {
  const [weight, setWeight] = useState(0);

  useEffect(() => {
    const load = async () => {
      const [device] = await navigator.bluetooth.getDevices();
      const server = await device!.gatt!.connect(); //! link-not-closed warning
      const hive = await server.getPrimaryService('df070100-7563-45da-9adc-777135148d9e');
      const characteristic = await hive.getCharacteristic('df070101-7563-45da-9adc-777135148d9e');
      setWeight((await characteristic.readValue()).getUint32(0, true));
    };
    load().catch(console.error);
  }, []);

  return <p>{weight}</p>;
}
