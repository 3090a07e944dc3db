const button = document.querySelector('button')!;
const message = document.querySelector('p')!;

button.addEventListener('click', async () => {
  let device: BluetoothDevice | undefined;
  try {
    device = await navigator.bluetooth.requestDevice({ filters: [{ namePrefix: 'Hive' }] });
    const server = await device.gatt!.connect();
    const hive = await server.getPrimaryService('df070100-7563-45da-9adc-777135148d9e');
    const weight = await hive.getCharacteristic('df070101-7563-45da-9adc-777135148d9e');
    await weight.startNotifications();
  } catch (error) {
    device?.gatt?.disconnect();
    message.textContent = String(error);
  }
});
