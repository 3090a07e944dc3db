/** The door of the catalogue: everything that other rooms may ask it. Data and reading stand in the modules behind. */
export * from './types.js';
export type { AppearanceCategory, BlockedManufacturerData, BlocklistEntry, SourceEntry } from './data.js';
export {
  aliasedType, callbackOf, constantOf, constructorsOf, extendsType, functionsNamed, getterOf, globalType, isPlatformType, membersOf, platformType, platformTypeNames, settersOf,
} from './platform.js';
export { allRunners, runnersOf } from './runners.js';
export { allLifecycle, lifecycleOf } from './lifecycle.js';
export { allLimits, levelsBelow, limitAt, limitRanges, osLimit, rangeAt } from './limits.js';
export {
  allAssignedNumbers, appearanceName, assignedNumbers, blockedManufacturerData, blocklist, blocklisted, canonicalUuid, companyName, expandUuid, shortUuid, webBluetoothName,
} from './numbers.js';
export { allStatusCodes, source, sourceKeys, statusCodes } from './codes.js';
