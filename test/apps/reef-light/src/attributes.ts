export const LIGHT = 'a60eb000-2771-4055-a483-b31b9a2da2c3';
export const FAN = 'a60eb010-2771-4055-a483-b31b9a2da2c3';
export const LAMP_TEMPERATURE = 'a60eb011-2771-4055-a483-b31b9a2da2c3';
export const CLOCK = 'a60eb020-2771-4055-a483-b31b9a2da2c3';

export const COLOURS = ['royal blue', 'blue', 'violet', 'white', 'green', 'red'] as const;
export type Colour = (typeof COLOURS)[number];

/** Channels of the colours, in their order. */
export const CHANNELS = [
  'a60eb001-2771-4055-a483-b31b9a2da2c3',
  'a60eb002-2771-4055-a483-b31b9a2da2c3',
  'a60eb003-2771-4055-a483-b31b9a2da2c3',
  'a60eb004-2771-4055-a483-b31b9a2da2c3',
  'a60eb005-2771-4055-a483-b31b9a2da2c3',
  'a60eb006-2771-4055-a483-b31b9a2da2c3',
];

export const FULL = 1000;

export function level(value: DataView): number {
  return value.byteLength < 2 ? 0 : Math.min(value.getUint16(0, true), FULL);
}

export function encodeLevel(permille: number): Uint8Array<ArrayBuffer> {
  return Uint8Array.of(permille & 0xff, permille >> 8);
}

export function encodeTime(seconds: number): Uint8Array<ArrayBuffer> {
  const bytes = new Uint8Array(4);
  new DataView(bytes.buffer).setUint32(0, seconds, true);
  return bytes;
}
