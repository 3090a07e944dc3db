const button = document.querySelector('button')!;
const message = document.querySelector('p')!;

/** The message says that it went wrong; the scale stays taken, and is not found when the user tries again. */
button.addEventListener('click', async () => {
  try {
    const device = await navigator.bluetooth.requestDevice({ filters: [{ namePrefix: 'Hive' }] });
    const server = await device.gatt!.connect(); //! link-not-closed warning
    const hive = await server.getPrimaryService('df070100-7563-45da-9adc-777135148d9e');
    const weight = await hive.getCharacteristic('df070101-7563-45da-9adc-777135148d9e');
    weight.addEventListener('characteristicvaluechanged', () => {
      message.textContent = String(weight.value?.getUint32(0, true));
    });
    await weight.startNotifications();
  } catch (error) {
    message.textContent = String(error);
  }
});
