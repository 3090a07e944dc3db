import { Button } from 'some-library';

function Typed({ onRead, onTare }: { onRead: () => void; onTare: () => Promise<void> }) {
  const tare = async () => {
    try {
      await onTare();
    } catch (error) {
      console.error(error);
    }
  };
  return <div><button onClick={onRead} /><button onClick={tare} /></div>;
}

export function Panel({ weight }: { weight: BluetoothRemoteGATTCharacteristic }) {
  const read = async () => {
    await weight.readValue(); //! status-unchecked warning
  };
  const tare = async () => {
    await weight.writeValue(new Uint8Array([1]));
  };
  const press = async () => {
    await weight.readValue(); //! status-unchecked warning
  };
  const custom = async () => {
    await weight.readValue();
  };
  return <div><Typed onRead={read} onTare={tare} /><Button onClick={press} onScaleFound={custom} /></div>;
}
