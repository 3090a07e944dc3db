import { useState } from 'react';

export function Scale() {
  const [device, setDevice] = useState<BluetoothDevice | undefined>(undefined);

  const connect = async () => {
    const chosen = await navigator.bluetooth.requestDevice({ filters: [{ namePrefix: 'Hive' }] });
    setDevice(chosen);
    await chosen.gatt?.connect();
  };

  const disconnect = () => {
    device?.gatt?.disconnect();
    setDevice(undefined);
  };

  return device ? <button onClick={disconnect}>Let go</button> : <button onClick={connect}>Connect</button>;
}
