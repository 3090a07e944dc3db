import { useEffect, useState } from 'react';

export function Scale() {
  const [device, setDevice] = useState<BluetoothDevice | undefined>(undefined);

  useEffect(() => {
    if (!device) return undefined;
    device.gatt?.connect().catch(console.error);
    return () => device.gatt?.disconnect();
  }, [device]);

  const choose = async () => {
    try {
      setDevice(await navigator.bluetooth.requestDevice({ filters: [{ namePrefix: 'Hive' }] }));
    } catch (error) {
      console.warn(error);
    }
  };

  return <button onClick={choose}>Connect</button>;
}
