import { describe, expect, it } from 'vitest';
import { FakeMachine } from './machine.js';

const PROFILE = 'device:\n  name: Hive scale\ntargets:\n  android:\n    minimum: 26\n';

/** What a finding's line begins with, for every finding. */
const places = (machine: FakeMachine): string[] => machine.printed.split('\n').filter((line) => /^\S+:\d+:\d+: /.test(line)).map((line) => line.split(': ').slice(0, 2).join(' '));

describe('the exit status', () => {
  it.each([
    ['fun f() {}', 'hint', 0],
    ['fun f() { slip() }', 'warning', 0],
    ['fun f() { slip() }', 'hint', 1],
    ['fun f() { oops() }', 'warning', 1],
    ['fun f() { oops() }', 'error', 0],
    ['fun f() { fault() }', 'error', 1],
    ['fun f() { oops() } // linkwright accepts word: it is meant', 'hint', 0],
    ['fun f() { oops() } // linkwright accepts word', 'warning', 1],
    ['fun f() {} // throw now', 'warning', 2],
    ['fun f() {} // linkwright accepts word: no more', 'hint', 1],
  ] as const)('for %j and --fail-on %s is %i', async (text, failOn, status) => {
    const machine = new FakeMachine({ '/work/A.kt': text });
    expect(await machine.check(['.'], { failOn })).toBe(status);
    expect(machine.said).toBe('');
  });
});

describe('input that cannot be used', () => {
  const files = { '/work/notes.txt': '', '/work/docs/readme.md': '', '/work/app/A.kt': '' };
  it.each([
    [['nowhere'], 'linkwright: There is no file or folder nowhere.\n'],
    [['app', '../x/y.kt'], 'linkwright: There is no file or folder ../x/y.kt.\n'],
    [['notes.txt'], 'linkwright: notes.txt is no Kotlin or TypeScript source and no device profile.\n'],
    [['docs'], 'linkwright: There is no Kotlin or TypeScript source in docs.\n'],
  ])('%j is refused with a sentence', async (paths, sentence) => {
    const machine = new FakeMachine(files);
    machine.absolute = (path) => (path.startsWith('../') ? `/${path.slice(3)}` : `/work/${path}`);
    expect(await machine.check(paths)).toBe(2);
    expect([machine.printed, machine.said]).toEqual(['', sentence]);
  });
});

describe('what is reported', () => {
  const FILES = {
    '/work/hive.device.yaml': PROFILE,
    '/work/app/A.kt': 'fun a() { oops() }\n',
    '/work/app/B.kt': 'fun b() { oops() }\n',
    '/work/web/c.ts': 'oops();\n',
  };

  it('is of a whole folder', async () => {
    const machine = new FakeMachine(FILES);
    await machine.check(['.']);
    expect(places(machine)).toEqual(['app/A.kt:1:11 warning', 'app/B.kt:1:11 warning', 'web/c.ts:1:1 warning']);
    expect(machine.printed).toContain('3 warnings in 4 files.\n');
  });

  it('is of a named file alone, which is read along with its project', async () => {
    const machine = new FakeMachine(FILES);
    await machine.check(['app/B.kt']);
    expect(places(machine)).toEqual(['app/B.kt:1:11 warning']);
    expect(machine.printed).not.toContain('Assumed');
  });

  it('has paths as seen from the working directory', async () => {
    const machine = new FakeMachine(FILES);
    machine.cwd = '/work/web';
    await machine.check(['/work/app']);
    expect(places(machine)).toEqual(['../app/A.kt:1:11 warning', '../app/B.kt:1:11 warning']);
  });

  it('holds what is wrong with the profile in force, also from the folders around', async () => {
    const machine = new FakeMachine({ ...FILES, '/work/hive.device.yaml': `${PROFILE}colour: red\n`, '/else.device.yaml': 'nonsense: 1\n' });
    expect(await machine.check(['app'])).toBe(1);
    expect(machine.printed).toMatch(/^hive\.device\.yaml:6:1: warning: .*\[device-profile\]$/m);
    expect(machine.printed).not.toContain('else.device.yaml');
  });

  it('says once what is assumed, and which files were left out', async () => {
    const machine = new FakeMachine({ '/work/A.kt': '', '/work/B.kt': '', '/work/Big.kt': 'x'.repeat(3_000_000) });
    expect(await machine.check(['.'])).toBe(0);
    expect(machine.printed).toMatch(/^Assumed: All 2 files have no device profile/m);
    expect(machine.printed).toMatch(/^Assumed: All 2 files have no stated oldest Android release: API level 18 and later/m);
    expect(machine.printed).toContain('Big.kt: The file is larger than 2 MB and was left out.\n');
  });

  it('adds coverage when asked for', async () => {
    const machine = new FakeMachine(FILES);
    await machine.check(['.'], { coverage: true });
    expect(machine.printed).toMatch(/\nRecognised\n {2}links {6}0 of 0\n/);
  });
});

describe('a SARIF log', () => {
  const log = async (machine: FakeMachine, paths: string[], coverage = false) => {
    await machine.check(paths, { format: 'sarif', coverage });
    return (JSON.parse(machine.printed) as { runs: [Record<string, any>] }).runs[0];
  };

  it('is all that is printed, with the rules, their pages and the version', async () => {
    const run = await log(new FakeMachine({ '/work/A.kt': 'fun a() { oops() }' }), ['.']);
    expect(run['tool'].driver.version).toBe('1.2.3');
    expect(run['tool'].driver.rules.map((rule: { id: string }) => rule.id)).toEqual(['word', 'acceptance-unexplained', 'acceptance-unused', 'device-profile']);
    expect(run['tool'].driver.rules[0].help.markdown).toBe('# A word\n');
    expect(run['results']).toHaveLength(1);
    expect(run['properties']).toBeUndefined();
  });

  it('has URIs below the working directory, or below the folder around the files', async () => {
    const files = { '/work/app/A.kt': 'fun a() { oops() }', '/work/app/deep/B.kt': 'fun b() { oops() }' };
    const uris = (run: Record<string, any>) => run['results'].map((result: any) => result.locations[0].physicalLocation.artifactLocation.uri);
    const below = await log(new FakeMachine(files), ['.']);
    expect([...uris(below), below['originalUriBaseIds'].CHECKROOT.uri]).toEqual(['app/A.kt', 'app/deep/B.kt', 'file:///work/']);
    const elsewhere = new FakeMachine(files);
    elsewhere.cwd = '/home/somebody';
    const around = await log(elsewhere, ['/work']);
    expect([...uris(around), around['originalUriBaseIds'].CHECKROOT.uri]).toEqual(['A.kt', 'deep/B.kt', 'file:///work/app/']);
  });

  it('offers the fixes that need no answer', async () => {
    const run = await log(new FakeMachine({ '/work/A.kt': '// linkwright accepts word: no more\nfun a() {}\n' }), ['.'], true);
    expect(run['results'][0].fixes[0].artifactChanges[0].replacements).toEqual([{ deletedRegion: { startLine: 1, startColumn: 1, endLine: 2, endColumn: 1 } }]);
    expect(run['properties'].coverage.links).toEqual({ known: 0, unknown: 0 });
  });
});

describe('progress', () => {
  const files = Object.fromEntries(Array.from({ length: 9 }, (_, i) => [`/work/F${i}.kt`, '']));

  it('is shown on a terminal when a run is long, and wiped away at its end', async () => {
    const machine = new FakeMachine(files);
    machine.isTerminal = true;
    await machine.check(['.']);
    expect(machine.said).toMatch(/^\r\x1b\[2KChecked 2 of 9 files/);
    expect(machine.said).toMatch(/\r\x1b\[2K$/);
    expect(machine.printed).not.toContain('Checked');
  });

  it('is not shown elsewhere, nor for a short run', async () => {
    const piped = new FakeMachine(files);
    await piped.check(['.']);
    const short = new FakeMachine(files);
    short.isTerminal = true;
    short.now = () => 0;
    await short.check(['.']);
    expect([piped.said, short.said]).toEqual(['', '']);
  });
});

describe('a watch', () => {
  /** Waits until the watch has begun again. */
  const watching = async (machine: FakeMachine, times: number): Promise<void> => {
    while (machine.said.split('Watching').length <= times) await new Promise((resolve) => setImmediate(resolve));
  };

  it('checks again when files change, come and go, and ends with the user’s key', async () => {
    const machine = new FakeMachine({ '/work/app/A.kt': 'fun a() { oops() }' });
    const status = machine.check(['.'], { watch: true });
    await watching(machine, 1);
    expect(machine.watched).toEqual(['/work', '/work/app']);
    expect(places(machine)).toEqual(['app/A.kt:1:11 warning']);

    const change = async (path: string, text: string | undefined, times: number): Promise<string[]> => {
      machine.printed = '';
      if (text === undefined) delete machine.texts[path];
      else machine.texts[path] = text;
      machine.onChange!(path);
      await watching(machine, times);
      return places(machine);
    };
    expect(await change('/work/app/A.kt', 'fun a() {}', 2)).toEqual([]);
    expect(await change('/work/app/B.kt', 'fun b() { fault() }', 3)).toEqual(['app/B.kt:1:11 error']);
    expect(await change('/work/app/A.kt', undefined, 4)).toEqual(['app/B.kt:1:11 error']);
    expect(machine.printed).toContain('1 error in 1 file.');
    machine.end.abort();
    expect(await status).toBe(1);
  });
});
