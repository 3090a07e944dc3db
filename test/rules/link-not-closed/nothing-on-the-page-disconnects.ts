const button = document.querySelector('button')!;
const message = document.querySelector('p')!;

/** The page lives as long as the link; only a failure in between would leave it open for nothing. */
button.addEventListener('click', async () => {
  const device = await navigator.bluetooth.requestDevice({ filters: [{ namePrefix: 'Hive' }] });
  const server = await device.gatt!.connect(); //! link-not-closed hint
  const hive = await server.getPrimaryService('df070100-7563-45da-9adc-777135148d9e');
  const weight = await hive.getCharacteristic('df070101-7563-45da-9adc-777135148d9e');
  weight.addEventListener('characteristicvaluechanged', () => {
    message.textContent = String(weight.value?.getUint32(0, true));
  });
  await weight.startNotifications();
});
