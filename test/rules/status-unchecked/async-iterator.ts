async function* readings(weight: BluetoothRemoteGATTCharacteristic) {
  for (let i = 0; i < 10; i++) yield await weight.readValue();
}

export function wire(button: HTMLButtonElement, weight: BluetoothRemoteGATTCharacteristic) {
  button.addEventListener('click', async () => {
    for await (const value of readings(weight)) console.log(value); //! status-unchecked warning
  });
  button.addEventListener('keydown', async () => {
    try {
      for await (const value of readings(weight)) console.log(value);
    } catch (error) {
      console.error(error);
    }
  });
}
