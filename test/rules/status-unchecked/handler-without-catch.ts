export function wire(button: HTMLButtonElement, weight: BluetoothRemoteGATTCharacteristic, device: BluetoothDevice) {
  button.addEventListener('click', async () => {
    const value = await weight.readValue(); //! status-unchecked warning
    const again = await weight.readValue();
    console.log(value, again);
  });
  button.onclick = async () => {
    await device.gatt!.connect(); //! status-unchecked warning
  };
  button.addEventListener('keydown', async function () {
    await weight.startNotifications(); //! status-unchecked warning
  });
  device.addEventListener('gattserverdisconnected', reconnect);
  weight.addEventListener('characteristicvaluechanged', async event => {
    await answer(event);
  });

  async function reconnect() {
    await device.gatt!.connect(); //! status-unchecked warning
  }

  async function answer(_: Event) {
    try {
      await weight.writeValue(new Uint8Array([1]));
    } catch (error) {
      console.error(error);
    }
  }
}
