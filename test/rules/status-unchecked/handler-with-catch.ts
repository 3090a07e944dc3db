export function wire(button: HTMLButtonElement, weight: BluetoothRemoteGATTCharacteristic, show: (text: string) => void) {
  button.addEventListener('click', async () => {
    try {
      show(String((await weight.readValue()).getUint8(0)));
    } catch (error) {
      show(String(error));
    } finally {
      button.disabled = false;
    }
  });
  button.onclick = async () => {
    await weight.readValue().catch(error => show(String(error)));
  };
  button.ondblclick = () => read().catch(error => show(String(error)));
  button.onkeydown = async () => {
    await quietly();
  };

  async function read() {
    return await weight.readValue();
  }

  async function quietly() {
    try {
      await read();
    } catch {
      show('–');
    }
  }
}
