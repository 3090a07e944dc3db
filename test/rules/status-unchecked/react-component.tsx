import { useCallback, useEffect, useState } from 'react';

export function Weight({ weight, device }: { weight: BluetoothRemoteGATTCharacteristic; device: BluetoothDevice }) {
  const [text, setText] = useState('');

  useEffect(() => {
    (async () => {
      await weight.startNotifications(); //! status-unchecked warning
    })();
  }, [weight]);

  const read = async () => {
    setText(String(await weight.readValue())); //! status-unchecked warning
  };

  const connect = useCallback(async () => {
    await device.gatt!.connect(); //! status-unchecked warning
  }, [device]);

  async function stop() {
    await weight.stopNotifications(); //! status-unchecked warning
  }

  return (
    <div>
      <button onClick={read}>{text}</button>
      <button onClick={connect}>Connect</button>
      <button onClick={() => stop()}>Stop</button>
      <button onClick={stop}>Stop</button>
      <button onClick={async () => { await weight.readValue(); }}>Read</button> //! status-unchecked warning
    </div>
  );
}
