import { showRows, weighAll } from './apiary.js';
import { chooseBootloader, explain, mountConnect } from './connect.js';
import { mountFirmware } from './firmware.js';
import { mountLive } from './live.js';
import type { HiveScale } from './scale.js';
import { mountSettings, SettingsWriter } from './settings.js';

function element<T extends HTMLElement>(id: string, type: new () => T): T {
  const found = document.getElementById(id);
  if (!(found instanceof type)) throw new Error(`#${id} is missing from the page`);
  return found;
}

const message = element('message', HTMLElement);
let unmount: (() => void) | undefined;

function fail(error: unknown): void {
  message.textContent = explain(error);
}

async function show(scale: HiveScale): Promise<void> {
  unmount?.();
  const closeLive = mountLive(
    {
      weight: element('weight', HTMLElement),
      battery: element('battery', HTMLElement),
      frames: element('frames', HTMLElement),
      canvas: element('chart', HTMLCanvasElement),
      tare: element('tare', HTMLButtonElement),
      identify: element('identify', HTMLButtonElement),
      refresh: element('refresh', HTMLButtonElement),
      message,
    },
    scale,
  );
  unmount = closeLive;

  const writer = await SettingsWriter.open(scale.server, scale.tail);
  const closeSettings = mountSettings(
    { form: element('settings', HTMLFormElement), name: element('name', HTMLInputElement), note: message },
    writer,
  );
  unmount = () => {
    closeSettings();
    closeLive();
  };
}

mountConnect({ button: element('connect', HTMLButtonElement), status: message }, (scale) => {
  show(scale).catch(fail);
  element('record', HTMLButtonElement).onclick = async () => {
    try {
      await scale.record((uuid, value) => console.log(uuid, value.byteLength, Date.now()));
    } catch (error) {
      fail(error);
    }
  };
});

element('weigh-all', HTMLButtonElement).addEventListener('click', () => {
  weighAll().then(
    (rows) => showRows(element('hives', HTMLTableSectionElement), rows),
    fail,
  );
});

element('update', HTMLButtonElement).addEventListener('click', () => {
  chooseBootloader()
    .then((device) =>
      mountFirmware(
        {
          version: element('version', HTMLElement),
          check: element('check', HTMLButtonElement),
          file: element('image', HTMLInputElement),
          progress: element('progress', HTMLProgressElement),
          message,
        },
        device,
      ),
    )
    .catch(fail);
});

window.addEventListener('pagehide', () => unmount?.());
