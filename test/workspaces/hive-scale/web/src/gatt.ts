/** What the scale offers, firmware 2.x. Keep in step with hive-scale.device.yaml. */

export const HIVE_SERVICE = 'df070100-7563-45da-9adc-777135148d9e';
export const WEIGHT = 'df070101-7563-45da-9adc-777135148d9e';
export const SOUND_LEVEL = 'df070102-7563-45da-9adc-777135148d9e';
export const ALARM = 'df070103-7563-45da-9adc-777135148d9e';
export const COMMAND = 'df070104-7563-45da-9adc-777135148d9e';

/** Front left, front right, rear left, rear right. */
export const LOAD_CELLS = [
  'df070111-7563-45da-9adc-777135148d9e',
  'df070112-7563-45da-9adc-777135148d9e',
  'df070113-7563-45da-9adc-777135148d9e',
  'df070114-7563-45da-9adc-777135148d9e',
] as const;

/** One probe between each two frames, counted from the entrance. */
export const FRAME_PROBES = [
  'df070121-7563-45da-9adc-777135148d9e',
  'df070122-7563-45da-9adc-777135148d9e',
  'df070123-7563-45da-9adc-777135148d9e',
  'df070124-7563-45da-9adc-777135148d9e',
  'df070125-7563-45da-9adc-777135148d9e',
  'df070126-7563-45da-9adc-777135148d9e',
  'df070127-7563-45da-9adc-777135148d9e',
  'df070128-7563-45da-9adc-777135148d9e',
  'df070129-7563-45da-9adc-777135148d9e',
  'df07012a-7563-45da-9adc-777135148d9e',
] as const;

export const SETTINGS_SERVICE = 'df070200-7563-45da-9adc-777135148d9e';
export const SETTINGS = 'df070201-7563-45da-9adc-777135148d9e';
export const HIVE_NAME = 'df070202-7563-45da-9adc-777135148d9e';

export const FIRMWARE_SERVICE = 'df070300-7563-45da-9adc-777135148d9e';
export const FIRMWARE_CONTROL = 'df070301-7563-45da-9adc-777135148d9e';
export const FIRMWARE_DATA = 'df070302-7563-45da-9adc-777135148d9e';

export const BATTERY_SERVICE = 0x180f;
export const BATTERY_LEVEL = 0x2a19;
export const DEVICE_INFORMATION = 0x180a;
export const FIRMWARE_REVISION = 0x2a26;

/** One-byte commands, acknowledged by the write response. */
export const Command = {
  tare: Uint8Array.of(0x01),
  identify: Uint8Array.of(0x02),
} as const;

/** What one write carries at the scale's ATT_MTU of 185. */
export const PAYLOAD = 182;
