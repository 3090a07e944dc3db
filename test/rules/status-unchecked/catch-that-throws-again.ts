export function wire(button: HTMLButtonElement, weight: BluetoothRemoteGATTCharacteristic) {
  button.addEventListener('click', async () => {
    try {
      await weight.readValue(); //! status-unchecked warning
    } catch (error) {
      console.error(error);
      throw error;
    }
  });
  button.addEventListener('keydown', async () => {
    try {
      await weight.readValue(); //! status-unchecked warning
    } finally {
      button.disabled = false;
    }
  });
}
