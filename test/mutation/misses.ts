/**
 * Mutants that the checker does not find today, each with the reason: a list to be emptied. They count as missed in the table;
 * the tests fail for any miss that is not here, and for any that is here and is found.
 */
export interface Miss {
  /** `path:line`, where it is planted. */
  readonly at: string;
  readonly operator: string;
}

const LIGHTS = 'camp-lights/src/camplights';
const FROST = 'frost-watch/app/src/main/kotlin/app/frostwatch';
const GARDEN = 'garden-valves/app/src/main/kotlin/app/gardenvalves/ble';
const KILN = 'kiln-log/app/src/main/kotlin/app/kilnlog';
const HIVE = 'hive-scale/android/app/src/main/java/app/hivescale';

export const missesByReason: Readonly<Record<string, readonly Miss[]>> = {
  'a status is not followed through a message to its handler': [
    { at: `${LIGHTS}/LightMachine.kt:58`, operator: 'status-check-dropped' },
    { at: `${LIGHTS}/LightMachine.kt:66`, operator: 'status-check-dropped' },
    { at: `${LIGHTS}/LightMachine.kt:68`, operator: 'status-check-dropped' },
    { at: `${LIGHTS}/LightMachine.kt:70`, operator: 'status-check-dropped' },
  ],
  'a busy flag of the app’s own that nobody asks': [
    { at: `${LIGHTS}/LightMachine.kt:121`, operator: 'busy-check-dropped' },
  ],
  'a flag that goes through a local before it is handed on': [
    { at: `${FROST}/FrostService.kt:25`, operator: 'result-taken-for-true' },
  ],
  'a status that is only put into words': [
    { at: `${GARDEN}/ValveBox.kt:129`, operator: 'status-check-dropped' },
    { at: `${KILN}/GattClient.kt:134`, operator: 'status-check-dropped' },
  ],
  'a typed operation that is started in place': [
    { at: `${GARDEN}/ValveBox.kt:57`, operator: 'past-the-queue' },
    { at: `${GARDEN}/ValveBox.kt:76`, operator: 'past-the-queue' },
    { at: `${GARDEN}/ValveBox.kt:77`, operator: 'past-the-queue' },
    { at: `${GARDEN}/ValveBox.kt:89`, operator: 'past-the-queue' },
    { at: `${GARDEN}/ValveBox.kt:104`, operator: 'past-the-queue' },
  ],
  'a start that a parameter holds, twice in one turn': [
    { at: `${KILN}/GattClient.kt:107`, operator: 'operation-repeated' },
    { at: `${KILN}/GattClient.kt:107`, operator: 'operation-in-loop' },
  ],
  'discovery outside of the lock, and what follows inside of it': [
    { at: `${KILN}/GattClient.kt:52`, operator: 'past-the-queue' },
  ],
  'a function that a hook returns': [
    { at: 'reef-light/src/useReef.ts:84', operator: 'catch-dropped' },
  ],
  'a way past the tail is reported at a caller, or as possible only': [
    { at: 'reef-light/src/reef.ts:71', operator: 'past-the-tail' },
    { at: 'roast-probe/src/thermometer.ts:69', operator: 'past-the-tail' },
    { at: 'roast-probe/src/thermometer.ts:78', operator: 'past-the-tail' },
    { at: `${HIVE}/gatt/ScaleLink.kt:81`, operator: 'past-the-queue' },
  ],
  'a value that is used before the status is handed on': [
    { at: `${HIVE}/gatt/ScaleLink.kt:217`, operator: 'status-check-dropped' },
  ],
};

export const misses: readonly Miss[] = Object.values(missesByReason).flat();
