/** What the thermometer offers. Both probes speak through one characteristic, the second byte says which. */
export const ROAST_SERVICE = '0b725f00-f1e4-421f-95c4-d31c11a90f6c';
export const TEMPERATURES = '0b725f01-f1e4-421f-95c4-d31c11a90f6c';
export const TARGETS = '0b725f02-f1e4-421f-95c4-d31c11a90f6c';
export const BUZZER = '0b725f03-f1e4-421f-95c4-d31c11a90f6c';

export const BATTERY_SERVICE = 'battery_service';
export const BATTERY_LEVEL = 'battery_level';

export type Probe = 0 | 1;

export interface Reading {
  readonly probe: Probe;
  readonly celsius: number;
  readonly at: number;
}

export function parseReading(value: DataView, at: number): Reading | undefined {
  if (value.byteLength < 4) return undefined;
  return { probe: value.getUint8(1) === 0 ? 0 : 1, celsius: value.getInt16(2, true) / 10, at };
}

export function encodeTargets(targets: readonly [number, number]): DataView<ArrayBuffer> {
  const view = new DataView(new ArrayBuffer(4));
  targets.forEach((celsius, probe) => view.setInt16(probe * 2, Math.round(celsius * 10), true));
  return view;
}

export function decodeTargets(value: DataView): [number, number] {
  return [value.getInt16(0, true) / 10, value.getInt16(2, true) / 10];
}
