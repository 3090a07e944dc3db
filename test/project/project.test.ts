import { describe, expect, it } from 'vitest';
import { nothingCovered } from '../../server/engine/coverage.js';
import { rule, type Finding } from '../../server/engine/rule.js';
import { defaultSettings } from '../../server/engine/settings.js';
import type { Facts } from '../../server/facts/facts.js';
import { lowerKotlin } from '../../server/frontend/kotlin/index.js';
import { Project } from '../../server/project/project.js';
import type { Publication } from '../../server/project/publish.js';
import type { Change, Snapshot } from '../../server/project/snapshot.js';
import type { Program, Resolver } from '../../server/resolve/api.js';

/** Reports every `fault()` of a file, and every word of a profile that begins with `no`. */
const faults = rule({
  id: 'fault', title: 'A fault', harm: '', severity: 'warning', sources: [],
  check(facts, report) {
    if (facts.text.includes('throw now')) throw new Error('gave way');
    for (const { index } of facts.text.matchAll(/fault\(\)/g)) report({ at: { start: index, end: index + 5 }, message: 'a fault' });
  },
});

/** A project of texts, in which a file consults those that its comment names: `// uses /B.kt`. */
function projectOf(...changes: Change[]) {
  const lowered: string[] = [];
  const checkedPaths: string[] = [];
  const pauses: (() => void)[] = [];
  const published: Publication[] = [];
  const project = new Project({
    linking: {
      lower(text, path) {
        lowered.push(path);
        return lowerKotlin(text, path);
      },
      link: () => ({}) as Program,
      resolver: () => ({}) as Resolver,
    },
    checker: {
      rules: [faults],
      withFacts(path, snapshot, ask) {
        const text = snapshot.textOf(path)!;
        if (text.includes('unanalysable')) throw new RangeError('too deep');
        return {
          answer: ask({ text } as Facts), coverage: nothingCovered,
          consulted: new Set(text.match(/(?<=uses )\S+/g)), effects: text.includes('closes') ? 'closes' : '',
        };
      },
      surroundings: (_path, snapshot) => snapshot.textOf('/hive.device.yaml') ?? '',
      profileFindings: (path, snapshot) => profileFindings(path, snapshot),
    },
    pause: () => new Promise((resolve) => { pauses.push(resolve); queueMicrotask(() => pauses.shift()?.()); }),
  }, defaultSettings);
  project.onPublish((publication) => published.push(publication));
  project.apply(changes);
  const check = async (signal?: AbortSignal) => {
    checkedPaths.length = 0;
    const done = await project.check(signal, (one) => checkedPaths.push(one.path));
    return { done, checked: [...checkedPaths] };
  };
  const shown = () => published.splice(0).map(({ path, version, findings }) => `${path}@${version ?? 'disk'}: ${findings.length}`);
  return { project, check, shown, lowered, published };
}

function profileFindings(path: string, snapshot: Snapshot): Finding[] {
  return [...snapshot.textOf(path)!.matchAll(/no\w+/g)].map(({ 0: word, index }) => ({
    rule: 'device-profile', severity: 'error', path, at: { start: index, end: index + word.length }, message: word, related: [], fixes: [], within: '',
  }));
}

const disk = (path: string, text?: string): Change => ({ is: 'disk', path, ...(text !== undefined && { text }) });
const edited = (path: string, text: string, version: number): Change => ({ is: 'edited', path, text, version });

const A = 'fun a() { fault() } // uses /B.kt\n';
const B = 'fun b(): Int { return 1 }\n';
const C = 'fun c() { fault(); fault() }\n';

describe('a project', () => {
  it('checks all its files and publishes what it finds', async () => {
    const { check, shown, project } = projectOf(disk('/C.kt', C), disk('/A.kt', A), disk('/B.kt', B));
    expect(await check()).toEqual({ done: true, checked: ['/A.kt', '/B.kt', '/C.kt'] });
    expect(shown()).toEqual(['/A.kt@disk: 1', '/C.kt@disk: 2']);
    expect(project.results().map((one) => [one.path, one.findings.length])).toEqual([['/A.kt', 1], ['/B.kt', 0], ['/C.kt', 2]]);
    expect(await check()).toEqual({ done: true, checked: [] });
  });

  it('checks again only the edited file while its face is the same', async () => {
    const { check, shown, project } = projectOf(disk('/A.kt', A), disk('/B.kt', B), disk('/C.kt', C));
    await check();
    shown();
    project.apply([edited('/B.kt', 'fun b(): Int { fault(); return 2 }\n', 1)]);
    expect((await check()).checked).toEqual(['/B.kt']);
    expect(shown()).toEqual(['/B.kt@1: 1']);
  });

  it('checks those that consulted it when its functions do something else', async () => {
    const { check, project } = projectOf(disk('/A.kt', A), disk('/B.kt', B), disk('/C.kt', C));
    await check();
    project.apply([edited('/B.kt', 'fun b(): Int { return 1 } // closes\n', 1)]);
    expect((await check()).checked).toEqual(['/B.kt', '/A.kt']);
  });

  it('lowers no text twice', async () => {
    const { check, project, lowered } = projectOf(disk('/A.kt', A), disk('/B.kt', B));
    await check();
    project.apply([edited('/B.kt', B, 1)]);
    await check();
    project.apply([edited('/B.kt', 'fun b() {}', 2)]);
    await check();
    expect(lowered).toEqual(['/A.kt', '/B.kt', '/B.kt']);
  });

  it('checks everything again when the profile in force changes, and the profile itself', async () => {
    const { check, shown, project } = projectOf(disk('/A.kt', A), disk('/hive.device.yaml', 'device: {}'));
    await check();
    shown();
    project.apply([disk('/hive.device.yaml', 'nonsense')]);
    expect((await check()).checked).toEqual(['/hive.device.yaml', '/A.kt']);
    expect(shown()).toEqual(['/hive.device.yaml@disk: 1']);
  });

  it('checks a profile again when a name that it says appears in the sources', async () => {
    const { check, project } = projectOf(disk('/A.kt', 'fun a() {}'), disk('/hive.device.yaml', 'queue: [enqueue]'));
    await check();
    project.apply([disk('/A.kt', 'fun a() { b() }')]);
    expect((await check()).checked).toEqual(['/A.kt']);
    project.apply([disk('/Q.kt', 'fun enqueue() {}')]);
    expect((await check()).checked).toEqual(['/Q.kt', '/hive.device.yaml']);
  });

  it('checks everything again under other settings', async () => {
    const { check, shown, project } = projectOf(disk('/A.kt', A), disk('/C.kt', C));
    await check();
    shown();
    project.configure({ levels: new Map([['fault', 'off']]), failOn: 'warning' });
    expect((await check()).checked).toEqual(['/A.kt', '/C.kt']);
    expect(shown()).toEqual(['/A.kt@disk: 0', '/C.kt@disk: 0']);
  });
});

describe('a cancelled run', () => {
  it('publishes nothing and clears nothing, and the next one goes on with the rest', async () => {
    const { check, shown, project } = projectOf(disk('/A.kt', A), disk('/C.kt', C));
    await check();
    shown();
    project.configure(defaultSettings);
    const gone = new AbortController();
    gone.abort();
    expect(await check(gone.signal)).toEqual({ done: false, checked: [] });
    expect(shown()).toEqual([]);
    expect(project.results().map((one) => one.findings.length)).toEqual([1, 2]);
    expect((await check()).checked).toEqual(['/A.kt', '/C.kt']);
  });

  it('is what an edit makes of the run under way', async () => {
    const { check, shown, project } = projectOf(disk('/A.kt', A), disk('/B.kt', B), disk('/C.kt', C));
    const first = check();
    project.apply([edited('/A.kt', 'fun a() {}', 1)]);
    expect(await first).toEqual({ done: false, checked: [] });
    expect(shown()).toEqual([]);
    expect(await check()).toEqual({ done: true, checked: ['/A.kt', '/B.kt', '/C.kt'] });
    expect(shown()).toEqual(['/A.kt@1: 0', '/C.kt@disk: 2']);
  });

  it('is cancelled between two files, and what was finished stays', async () => {
    const { project, shown } = projectOf(disk('/A.kt', A), disk('/B.kt', B), disk('/C.kt', C));
    const half = new AbortController();
    const done = await project.check(half.signal, (one) => { if (one.path === '/A.kt') half.abort(); });
    expect(done).toBe(false);
    expect(shown()).toEqual(['/A.kt@disk: 1']);
    const rest: string[] = [];
    await project.check(undefined, (one) => rest.push(one.path));
    expect(rest).toEqual(['/B.kt', '/C.kt']);
  });
});

describe('documents', () => {
  it('come first when an editor shows them', async () => {
    const { check } = projectOf(disk('/A.kt', A), disk('/B.kt', B), disk('/C.kt', C), edited('/C.kt', C, 7));
    expect((await check()).checked).toEqual(['/C.kt', '/A.kt', '/B.kt']);
  });

  it('keep their findings when they are closed, and lose them with the file', async () => {
    const { check, shown, project } = projectOf(disk('/A.kt', A), edited('/A.kt', A, 1));
    await check();
    project.apply([{ is: 'closed', path: '/A.kt' }]);
    await check();
    project.apply([disk('/A.kt')]);
    await check();
    expect(shown()).toEqual(['/A.kt@1: 1', '/A.kt@disk: 1', '/A.kt@disk: 0']);
    expect(project.results()).toEqual([]);
  });

  it('that lie outside of the project are cleared when they are closed', async () => {
    const { check, shown, project } = projectOf(edited('/elsewhere/A.kt', A, 1));
    await check();
    project.apply([{ is: 'closed', path: '/elsewhere/A.kt' }]);
    await check();
    expect(shown()).toEqual(['/elsewhere/A.kt@1: 1', '/elsewhere/A.kt@disk: 0']);
  });

  it('opened with the text of the disk are published for their version', async () => {
    const { check, shown, project } = projectOf(disk('/A.kt', A));
    await check();
    project.apply([edited('/A.kt', A, 1)]);
    await check();
    expect(shown()).toEqual(['/A.kt@disk: 1', '/A.kt@1: 1']);
  });
});

describe('what gives way inside', () => {
  it('costs one rule in one file', async () => {
    const { check, project } = projectOf(disk('/A.kt', 'fun a() {} // throw now'), disk('/C.kt', C));
    await check();
    expect(project.resultOf('/A.kt')).toMatchObject({ findings: [], problems: [{ rule: 'fault', message: 'gave way' }] });
    expect(project.resultOf('/C.kt')!.findings).toHaveLength(2);
  });

  it('costs one file when it is the analysis itself', async () => {
    const { check, project } = projectOf(disk('/A.kt', '// unanalysable'), disk('/C.kt', C));
    expect((await check()).done).toBe(true);
    expect(project.resultOf('/A.kt')!.problems).toMatchObject([{ rule: 'analysis', message: 'too deep' }]);
    expect(project.resultOf('/C.kt')!.findings).toHaveLength(2);
  });
});
