/** Which profile is in force for a source file. */
import { describe, expect, it } from 'vitest';
import { contested, nearestProfile, upward } from '../../server/profile/nearest.js';

describe('the nearest profile', () => {
  it.each([
    ['in the same folder', 'app/src/Link.kt', ['app/src/a.device.yaml', 'app/b.device.yaml'], 'app/src/a.device.yaml'],
    ['further up', 'app/src/ble/Link.kt', ['app/b.device.yaml', 'c.device.yaml'], 'app/b.device.yaml'],
    ['at the root', 'app/src/Link.kt', ['c.device.yaml'], 'c.device.yaml'],
    ['never below', 'app/Link.kt', ['app/src/a.device.yaml'], undefined],
    ['never beside', 'app/src/Link.kt', ['app/source/a.device.yaml', 'app/sr/b.device.yaml'], undefined],
    ['the first by name in one folder', 'app/Link.kt', ['app/b.device.yaml', 'app/a.device.yaml'], 'app/a.device.yaml'],
    ['in absolute paths', '/home/app/Link.kt', ['/home/a.device.yaml', '/b.device.yaml'], '/home/a.device.yaml'],
    ['in paths with backslashes', 'C:\\hive\\app\\Link.kt', ['C:\\hive\\a.device.yaml', 'D:\\b.device.yaml'], 'C:\\hive\\a.device.yaml'],
    ['in URIs', 'file:///hive/app/Link.kt', ['file:///hive/a.device.yaml'], 'file:///hive/a.device.yaml'],
    ['none at all', 'app/Link.kt', [], undefined],
  ])('%s', (_, source, profiles, expected) => {
    expect(nearestProfile(source, profiles)).toBe(expected);
  });

  it('comes first among all those upward', () => {
    expect(upward('a/b/c/Link.kt', ['build.gradle', 'a/b/build.gradle.kts', 'a/b/build.gradle', 'x/build.gradle', 'a/build.gradle'])).toEqual([
      'a/b/build.gradle', 'a/b/build.gradle.kts', 'a/build.gradle', 'build.gradle',
    ]);
  });
});

describe('several profiles in one folder', () => {
  it('are named in each of them', () => {
    const found = contested(['app/b.device.yaml', 'c.device.yaml', 'app/a.device.yaml']);
    expect(found.map(({ path }) => path)).toEqual(['app/a.device.yaml', 'app/b.device.yaml']);
    for (const { problem } of found) {
      expect(problem).toEqual({
        at: { start: 0, end: 0 }, severity: 'warning',
        message: 'This folder has 2 device profiles: a.device.yaml, b.device.yaml. The first one, a.device.yaml, is in force.',
      });
    }
  });

  it('are no problem in different folders', () => {
    expect(contested(['a/x.device.yaml', 'b/x.device.yaml', 'x.device.yaml'])).toEqual([]);
  });
});
