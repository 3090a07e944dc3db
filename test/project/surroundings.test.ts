import { describe, expect, it } from 'vitest';
import { lowerKotlin } from '../../server/frontend/kotlin/index.js';
import type { File } from '../../server/ir/ir.js';
import { Snapshot, type Change } from '../../server/project/snapshot.js';
import { Surroundings } from '../../server/project/surroundings.js';
import type { Program, Resolver } from '../../server/resolve/api.js';

/** Knows the functions and fields of these files by name, as the real program does. */
function programOf(files: readonly File[]): Program {
  const classes = files.flatMap((file) => file.declarations.flatMap((one) => (one.kind === 'Class' ? [one] : [])));
  const functions = [...classes.flatMap((cls) => cls.functions), ...files.flatMap((file) => file.declarations.flatMap((one) => (one.kind === 'Fn' ? [one] : [])))];
  return {
    files: new Map(files.map((file) => [file.path, file])),
    functionsNamed: (name: string) => functions.filter((fn) => fn.name === name),
    fieldsNamed: () => [],
    ownerOf: (fn: unknown) => classes.find((cls) => cls.functions.some((one) => one === fn)),
  } as unknown as Program;
}

function world(...changes: Change[]) {
  const linking = { lower: lowerKotlin, link: programOf, resolver: () => ({}) as Resolver };
  const surroundings = new Surroundings();
  let { snapshot } = Snapshot.empty(linking).apply(changes);
  return {
    of: (path: string) => surroundings.of(path, snapshot),
    findings: (path: string) => surroundings.findings(path, snapshot).map(({ rule, severity, message }) => `${rule} ${severity}: ${message}`),
    assumed: (...paths: string[]) => surroundings.assumed(paths, snapshot, '/work'),
    apply: (...next: Change[]) => { ({ snapshot } = snapshot.apply(next)); },
  };
}

const disk = (path: string, text?: string): Change => ({ is: 'disk', path, ...(text !== undefined && { text }) });

const PROFILE = 'device:\n  name: Hive scale\ntargets:\n  android:\n    minimum: 26\nqueue:\n  - Queue.enqueue\n';
const GRADLE = 'android { defaultConfig { minSdk = 24\n targetSdk = 35 } }\n';
const QUEUE = 'class Queue { fun enqueue(op: () -> Unit) {} }\n';

describe('what surrounds a source', () => {
  it('is the nearest profile upward, and the levels of the build files', () => {
    const { of } = world(disk('/work/a.device.yaml', 'device:\n  name: Far\n'), disk('/work/app/b.device.yaml', PROFILE), disk('/work/app/build.gradle', GRADLE));
    expect(of('/work/app/src/A.kt').profile?.device.name?.value).toBe('Hive scale');
    expect(of('/work/app/src/A.kt').targets.android).toMatchObject({ minimum: 26, origin: 'profile', target: 35 });
    expect(of('/work/web/a.ts').profile?.device.name?.value).toBe('Far');
    expect(of('/work/web/a.ts').targets.android).toMatchObject({ minimum: 18, origin: 'assumed' });
  });

  it('has a key that changes with what counts for the file, and with nothing else', () => {
    const { of, apply } = world(disk('/work/app/b.device.yaml', PROFILE), disk('/work/web/build.gradle', ''));
    const [app, web] = [of('/work/app/A.kt').key, of('/work/web/a.ts').key];
    apply(disk('/work/app/A.kt', 'class A'));
    expect(of('/work/app/A.kt').key).toBe(app);
    apply(disk('/work/app/b.device.yaml', PROFILE.replace('26', '21')));
    expect(of('/work/app/A.kt').key).not.toBe(app);
    expect(of('/work/web/a.ts').key).toBe(web);
    apply(disk('/work/web/build.gradle', GRADLE));
    expect(of('/work/web/a.ts').key).not.toBe(web);
  });

  it('stays the last good profile while a new one is half typed, and nothing may point into it', () => {
    const { of, apply, findings } = world(disk('/work/b.device.yaml', PROFILE), disk('/work/Q.kt', QUEUE));
    expect(of('/work/Q.kt').staleProfile).toBeUndefined();
    apply(disk('/work/b.device.yaml', PROFILE.replace('targets:', 'targets: [')));
    expect(of('/work/Q.kt').targets.android.minimum).toBe(26);
    expect(of('/work/Q.kt').staleProfile).toBe('/work/b.device.yaml');
    expect(findings('/work/b.device.yaml')[0]).toMatch(/^device-profile error: /);
    apply(disk('/work/b.device.yaml'));
    expect(of('/work/Q.kt').profile).toBeUndefined();
  });
});

describe('what is wrong with a profile', () => {
  it('is told where one of its functions no longer exists', () => {
    const { findings, apply } = world(disk('/work/b.device.yaml', PROFILE), disk('/work/Q.kt', QUEUE));
    expect(findings('/work/b.device.yaml')).toEqual([]);
    apply(disk('/work/Q.kt', QUEUE.replace('enqueue', 'enqueueAll')));
    expect(findings('/work/b.device.yaml')).toEqual([
      'device-profile warning: No function "Queue.enqueue" is declared in the sources, so no operation can go through it. Did you mean "Queue.enqueueAll"?',
    ]);
    apply(disk('/work/Q.kt', 'class Other { fun enqueue() {} }\n'));
    expect(findings('/work/b.device.yaml')).toHaveLength(1);
  });

  it('is told where a folder has two, or the app is built for older systems', () => {
    const { findings } = world(disk('/work/b.device.yaml', PROFILE), disk('/work/a.device.yaml', 'device:\n  name: X\n'), disk('/work/Q.kt', QUEUE), disk('/work/build.gradle', GRADLE));
    expect(findings('/work/b.device.yaml').join('\n')).toMatch(/2 device profiles: a\.device\.yaml, b\.device\.yaml/);
    expect(findings('/work/b.device.yaml').join('\n')).toMatch(/built for API level 24/);
  });
});

describe('what is assumed', () => {
  it('is said once for all files without a profile, and for those whose oldest release is not stated', () => {
    const { assumed } = world(disk('/work/A.kt', ''), disk('/work/b.ts', ''));
    expect(assumed('/work/A.kt', '/work/b.ts')).toEqual([
      'All 2 files have no device profile (*.device.yaml) in force, so the app’s own queue and teardown are looked for, and nothing is known of the device.',
      '1 of 2 files (A.kt) has no stated oldest Android release: API level 18 and later (assumed; neither a device profile nor a build file states a minimum).',
    ]);
  });

  it('is nothing where a profile states it', () => {
    const { assumed } = world(disk('/work/b.device.yaml', PROFILE), disk('/work/A.kt', QUEUE));
    expect(assumed('/work/A.kt')).toEqual([]);
  });
});
