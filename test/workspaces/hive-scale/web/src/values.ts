/** Everything the scale sends is little-endian. */

export interface Weight {
  readonly grams: number;
  readonly stable: boolean;
}

export interface Settings {
  readonly intervalSeconds: number;
  readonly swarmLossGrams: number;
  readonly tiltAlarm: boolean;
}

/** A probe that is not plugged in sends the lowest value. */
const NO_PROBE = -0x8000;

export function parseWeight(view: DataView): Weight {
  return { grams: view.getInt32(0, true), stable: (view.getUint8(4) & 0x01) !== 0 };
}

/** Degrees Celsius, or undefined where no probe answers. */
export function parseFrame(view: DataView): number | undefined {
  const raw = view.getInt16(0, true);
  return raw === NO_PROBE ? undefined : raw / 16;
}

export function parseSettings(view: DataView): Settings {
  return {
    intervalSeconds: view.getUint16(0, true),
    swarmLossGrams: view.getInt32(2, true),
    tiltAlarm: view.getUint8(6) !== 0,
  };
}

export function encodeSettings(settings: Settings): Uint8Array<ArrayBuffer> {
  const bytes = new Uint8Array(8);
  const view = new DataView(bytes.buffer);
  view.setUint16(0, settings.intervalSeconds, true);
  view.setInt32(2, settings.swarmLossGrams, true);
  view.setUint8(6, settings.tiltAlarm ? 1 : 0);
  return bytes;
}

export function decodeText(view: DataView): string {
  return new TextDecoder().decode(view).replace(/\0+$/, '');
}

export function formatWeight(weight: Weight): string {
  const text = `${(weight.grams / 1000).toFixed(2)} kg`;
  return weight.stable ? text : `~${text}`;
}

export function formatDegrees(degrees: number | undefined): string {
  return degrees === undefined ? '–' : `${degrees.toFixed(1)} °C`;
}
