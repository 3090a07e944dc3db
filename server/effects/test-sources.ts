/** Which sources are tests: what they drop or pass over on purpose harms nobody. */

/** Source: Gradle's source sets of Android modules; the usual places of tests of JavaScript. */
const TEST = /(?:^|\/)(?:src\/(?:test|androidTest|sharedTest|commonTest|testFixtures)[A-Za-z]*|__tests__|__mocks__)\/|\.(?:test|spec)\.[cm]?[jt]sx?$/;

export const isTestSource = (path: string): boolean => TEST.test(path);
