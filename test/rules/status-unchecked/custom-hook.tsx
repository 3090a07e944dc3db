import { useCallback, useState } from 'react';

function useScale(weight: BluetoothRemoteGATTCharacteristic) {
  const [text, setText] = useState('');

  const read = useCallback(async () => {
    setText(String(await weight.readValue())); //! status-unchecked warning
  }, [weight]);

  const readWell = useCallback(async () => {
    try {
      setText(String(await weight.readValue()));
    } catch (error) {
      setText(String(error));
    }
  }, [weight]);

  const tare = useCallback(async () => {
    await weight.writeValue(new Uint8Array([1]));
  }, [weight]);

  return { text, read, readWell, tare };
}

export function Weight({ weight }: { weight: BluetoothRemoteGATTCharacteristic }) {
  const { text, read, readWell, tare } = useScale(weight);

  const onTare = async () => {
    await tare(); //! status-unchecked warning
  };

  const onTareWell = () => tare().catch(console.error);

  return (
    <div>
      <button onClick={read}>{text}</button>
      <button onClick={readWell}>{text}</button>
      <button onClick={onTare}>Tare</button>
      <button onClick={onTareWell}>Tare</button>
    </div>
  );
}
