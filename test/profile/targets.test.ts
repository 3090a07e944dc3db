/** What the app must run on: the profile's word, the build files', or an assumption that says so. */
import { describe, expect, it } from 'vitest';
import { readGradle, type GradleLevels } from '../../server/profile/gradle.js';
import { readProfile } from '../../server/profile/read.js';
import { compareLevels, describeRange, runsOnAndroid, targetsOf } from '../../server/profile/targets.js';
import type { Profile } from '../../server/profile/types.js';

function profileOf(text: string): Profile {
  const { profile } = readProfile(text, 'hive.device.yaml');
  if (profile === undefined) throw new Error('no profile');
  return profile;
}

const gradle = (body: string, path = 'app/build.gradle'): GradleLevels => readGradle(`android { defaultConfig { ${body} } }`, path);

describe('the Android targets', () => {
  it('are the profile’s, where it states them', () => {
    const targets = targetsOf(profileOf('targets: { android: { minimum: 26, target: 34 } }'), [gradle('minSdk 24; targetSdk 35')]);
    expect(targets.android).toMatchObject({ minimum: 26, origin: 'profile', target: 34, targetOrigin: 'profile', place: { path: 'hive.device.yaml' } });
    expect(describeRange(targets)).toBe('API level 26 and later');
  });

  it('are the build file’s, where the profile is silent', () => {
    const targets = targetsOf(profileOf('targets: { android: { target: 34 } }'), [gradle('minSdk 24; targetSdk 35')]);
    expect(targets.android).toMatchObject({ minimum: 24, origin: 'gradle', target: 34, targetOrigin: 'profile', place: { path: 'app/build.gradle' } });
    expect(describeRange(targets)).toBe('API level 24 and later (minSdk)');
  });

  it('are those of the nearest build file that states them', () => {
    const targets = targetsOf(undefined, [gradle('targetSdk 35'), gradle('minSdk 23; targetSdk 30', 'build.gradle')]);
    expect(targets.android).toMatchObject({ minimum: 23, target: 35, place: { path: 'build.gradle' } });
  });

  it('are not taken from further up past a statement that cannot be read', () => {
    const targets = targetsOf(undefined, [gradle('minSdk libs.versions.minSdk.get()'), gradle('minSdk 30', 'build.gradle')]);
    expect(targets.android).toEqual({ minimum: 18, origin: 'assumed' });
  });

  // The widest assumption: android.bluetooth.BluetoothGatt was added in API level 18.
  it('are assumed, and say so, where nobody states them', () => {
    const targets = targetsOf(undefined);
    expect(targets).toEqual({ android: { minimum: 18, origin: 'assumed' } });
    expect(describeRange(targets)).toBe('API level 18 and later (assumed; neither a device profile nor a build file states a minimum)');
  });

  it('are compared: a profile above the build leaves old systems unchecked', () => {
    const text = 'targets: { android: { minimum: 26 } }';
    const [problem, ...others] = compareLevels(profileOf(text), [gradle('minSdk 24')]);
    expect(others).toEqual([]);
    expect(problem).toMatchObject({ severity: 'warning', message: 'The app is built for API level 24 and later (app/build.gradle); the levels below 26 are not checked.' });
    expect(text.slice(problem?.at.start, problem?.at.end)).toBe('26');
    expect(compareLevels(profileOf(text), [gradle('minSdk 26')])).toEqual([]);
    expect(compareLevels(profileOf(text), [gradle('minSdk 28')])).toEqual([]);
    expect(compareLevels(profileOf(text), [])).toEqual([]);
  });
});

describe('the browser targets', () => {
  it('are the profile’s alone', () => {
    const targets = targetsOf(profileOf('targets: { browser: { minimum: { Chrome: 122 }, platforms: [windows, android] } }'));
    expect(targets.browser).toEqual({ minimum: [{ name: 'chrome', version: 122 }], platforms: ['windows', 'android'] });
    expect(runsOnAndroid(targets)).toBe(true);
  });

  it('put Android’s limits on a page only where Android is named', () => {
    expect(runsOnAndroid(targetsOf(profileOf('targets: { browser: { minimum: { chrome: 122 }, platforms: [windows] } }')))).toBe(false);
    expect(runsOnAndroid(targetsOf(profileOf('targets: { browser: { minimum: { chrome: 122 } } }')))).toBe(false);
    expect(runsOnAndroid(targetsOf(undefined))).toBe(false);
  });
});
