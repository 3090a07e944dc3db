import { Panel } from './panel.js';
import { HIVE, Scale } from './scale.js';

let panel: Panel | undefined;

document.querySelector('#connect')!.addEventListener('click', async () => {
  try {
    const device = await navigator.bluetooth.requestDevice({ filters: [{ services: [HIVE] }] });
    device.addEventListener('gattserverdisconnected', () => panel?.leave());
    panel?.leave();
    panel = new Panel(await Scale.open(device), document.body);
  } catch (error) {
    console.warn(error);
  }
});

window.addEventListener('pagehide', () => panel?.leave());
