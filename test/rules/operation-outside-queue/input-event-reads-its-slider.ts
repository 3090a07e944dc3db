/** The value is read from the element that tells of it; which element it is makes the difference. */
export function follow(light: BluetoothRemoteGATTCharacteristic, slider: HTMLInputElement, choice: HTMLSelectElement): void {
  slider.oninput = () => {
    void light.writeValue(Uint8Array.of(Number(slider.value))); //! operation-outside-queue warning
  };
  choice.onchange = () => {
    void light.writeValue(Uint8Array.of(choice.selectedIndex)); //! operation-outside-queue hint
  };
  slider.addEventListener('input', () => {
    if (slider.value === '0') void light.writeValue(Uint8Array.of(0)); //! operation-outside-queue hint
  });
}
