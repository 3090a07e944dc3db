import { useCallback, useEffect, useState } from 'react';

export function useWeight(weight: BluetoothRemoteGATTCharacteristic) {
  const read = useCallback(async () => await weight.readValue(), [weight]);
  return { read };
}

export function Weight({ weight, device }: { weight: BluetoothRemoteGATTCharacteristic; device: BluetoothDevice }) {
  const [text, setText] = useState('');

  const load = useCallback(async () => {
    const value = await weight.readValue();
    return value.getUint8(0);
  }, [weight]);

  useEffect(() => {
    weight.startNotifications().catch(error => setText(String(error)));
    return () => {
      weight.stopNotifications().catch(() => undefined);
    };
  }, [weight]);

  const onRead = async () => {
    try {
      setText(String(await load()));
    } catch (error) {
      setText(String(error));
    }
  };

  const onConnect = () => {
    device.gatt!.connect().then(() => setText('connected'), error => setText(String(error)));
  };

  return <div><button onClick={onRead}>{text}</button><button onClick={onConnect}>Connect</button></div>;
}
