export function wire(button: HTMLButtonElement, weight: BluetoothRemoteGATTCharacteristic, device: BluetoothDevice) {
  button.addEventListener('click', async () => {
    try {
      const value = await weight.readValue();
      const again = await weight.readValue();
      console.log(value, again);
    } catch (error) {
      onGattFailure(error);
    }
  });
  button.onclick = async () => {
    await device.gatt!.connect();
  };
  button.addEventListener('keydown', async function () {
    await weight.startNotifications();
  });
  device.addEventListener('gattserverdisconnected', reconnect);
  weight.addEventListener('characteristicvaluechanged', async event => {
    await answer(event);
  });

  async function reconnect() {
    await device.gatt!.connect();
  }

  async function answer(_: Event) {
    try {
      await weight.writeValue(new Uint8Array([1]));
    } catch (error) {
      console.error(error);
    }
  }
}
