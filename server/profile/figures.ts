/** The figures of Bluetooth LE on Android that a profile is held against; limits that change by release are the budget's. */
import { limitAt, osLimit } from '../catalogue/index.js';

/** `android.bluetooth.BluetoothGatt` was added in API level 18 (Android 4.3). */
export const FIRST_BLE_LEVEL = 18;
/** `BluetoothGatt.requestMtu` was added in API level 21. */
export const FIRST_LEVEL_WITH_REQUEST = 21;
/** From Android 14 on the first request of any app asks for the greatest ATT_MTU, whatever the app says (AOSP `GATTC_ConfigureMTU`). */
export const FIRST_LEVEL_ASKING_GREATEST = 34;

/** The ATT_MTU with which every LE link begins: AOSP `GATT_DEF_BLE_MTU_SIZE`. */
export const LEAST_MTU = limitAt(osLimit('default-att-mtu'), FIRST_BLE_LEVEL);
/** AOSP `GATT_MAX_MTU_SIZE`. */
export const GREATEST_MTU = limitAt(osLimit('max-att-mtu'), FIRST_BLE_LEVEL);
/** The longest attribute value: Core Specification Vol 3, Part F; AOSP `GATT_MAX_ATTR_LEN` from Android 13 (API level 33) on. */
export const LONGEST_VALUE = limitAt(osLimit('attribute-length'), 33);
