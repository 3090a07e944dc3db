import { useState } from 'react';

export function Dimmer({ light }: { light: BluetoothRemoteGATTCharacteristic }) {
  const [level, setLevel] = useState(0);
  const change = async (value: number) => {
    setLevel(value);
    await light.writeValue(Uint8Array.of(value)); //! operation-outside-queue warning
  };
  const off = async () => {
    await light.writeValue(Uint8Array.of(0)); //! operation-outside-queue hint
  };
  return (
    <div>
      <input type="range" value={level} onChange={(event) => change(Number(event.target.value))} />
      <button onClick={off}>Off</button>
    </div>
  );
}
