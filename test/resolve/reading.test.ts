/** An answer outlives an edit exactly when it was read from nothing that the edit changed. */
import { describe, expect, it } from 'vitest';
import { lower } from '../../server/frontend/index.js';
import type { File } from '../../server/ir/ir.js';
import type { Resolver } from '../../server/resolve/api.js';
import { link, resolver } from '../../server/resolve/index.js';
import { Answers, Kept, Reading } from '../../server/resolve/reading.js';

/** Answers a question by name, noting what it is read from, and says whether that was needed. */
class Questions {
  readonly reading = new Reading();
  private readonly answers = new Answers<string, Kept<string>>(this.reading);

  ask(question: string, read: () => void): 'known' | 'computed' {
    const known = this.answers.get(question);
    if (known !== undefined) {
      this.reading.uses(known);
      return 'known';
    }
    const answer = new Kept(question);
    this.reading.begins();
    read();
    this.reading.ends(answer);
    this.answers.set(question, answer);
    return 'computed';
  }
}

describe('an answer', () => {
  it('is known until a file that it saw is edited', () => {
    const it = new Questions();
    const ask = () => it.ask('q', () => it.reading.shows('/a.kt'));
    expect([ask(), ask()]).toEqual(['computed', 'known']);
    it.reading.edited(['/b.kt'], []);
    expect(ask()).toBe('known');
    it.reading.edited(['/a.kt'], []);
    expect([ask(), ask()]).toEqual(['computed', 'known']);
  });

  it('is known until a name that it asked for is new somewhere', () => {
    const it = new Questions();
    const ask = () => it.ask('q', () => it.reading.asks('calls:close'));
    ask();
    it.reading.edited(['/b.kt'], ['calls:open']);
    expect(ask()).toBe('known');
    it.reading.edited(['/b.kt'], ['calls:close']);
    expect(ask()).toBe('computed');
  });

  it('rests on all that the answers rest on which it was made of, known ones too', () => {
    const it = new Questions();
    const inner = () => it.ask('inner', () => it.reading.shows('/a.kt'));
    inner();
    const outer = () => it.ask('outer', () => void inner());
    expect(outer()).toBe('computed');
    it.reading.edited(['/a.kt'], []);
    expect(outer()).toBe('computed');
  });

  it('that an inner one saw a file does not make the one before it rest on it', () => {
    const it = new Questions();
    it.ask('first', () => {});
    it.ask('second', () => it.reading.shows('/a.kt'));
    it.reading.edited(['/a.kt'], []);
    expect(it.ask('first', () => {})).toBe('known');
  });

  it('that is asked for again and again outlives any number of edits elsewhere, and one that is not is forgotten', () => {
    const it = new Questions();
    it.ask('asked', () => {});
    it.ask('left', () => {});
    for (let edits = 0; edits < 40; edits++) {
      it.reading.edited(['/b.kt'], []);
      expect(it.ask('asked', () => {})).toBe('known');
    }
    expect(it.ask('left', () => {})).toBe('computed');
  });

  it('is never kept without right, however many files there are', () => {
    const it = new Questions();
    const paths = Array.from({ length: 200 }, (_, i) => `/${i}.kt`);
    for (const path of paths) it.ask(path, () => it.reading.shows(path));
    it.reading.edited(['/150.kt'], []);
    expect(it.ask('/150.kt', () => {})).toBe('computed');
    const known = paths.filter((path) => it.ask(path, () => {}) === 'known');
    expect(known.length).toBeGreaterThan(190);
  });
});

describe('a resolver that goes on after an edit', () => {
  const texts = new Map([
    ['/Link.kt', 'package app\nclass Link { val size = 20; fun close() { println(1) } }'],
    ['/Screen.kt', 'package app\nclass Screen(private val link: Link) { fun leave() = link.close(); fun size() = link.size }'],
    ['/Other.kt', 'package app\nclass Other { fun greet() = "hello" }'],
  ]);

  /** The program after each of the changes, the resolver carried along, and one made for the last texts alone. */
  function after(...changes: readonly (readonly [path: string, text: string])[]): { carried: Resolver; fresh: Resolver; goesOn: boolean } {
    const now = new Map([...texts].map(([path, text]) => [path, lower(text, path)!]));
    let program = link(now.values());
    let carried: Resolver = resolver(program);
    const first = carried;
    for (const [path, text] of changes) {
      describeAll(carried, [...now.values()]);
      now.set(path, lower(text, path)!);
      program = link(now.values(), program);
      carried = resolver(program, carried);
    }
    return { carried, fresh: resolver(link(now.values())), goesOn: carried === first };
  }

  /** What every function of the files yields. */
  function describeAll(resolver: Resolver, files: readonly File[]): string[] {
    return files.flatMap((file) => file.declarations.flatMap((each) => (each.kind !== 'Class' ? [] : each.functions.map((fn) =>
      `${each.name}.${fn.name}: ${resolver.resultOf(fn)?.name}, called ${resolver.callersOf(fn).length} times`))));
  }

  const same = ({ carried, fresh }: { carried: Resolver; fresh: Resolver }): string[] => {
    const said = describeAll(carried, [...carried.program.files.values()]);
    expect(said).toEqual(describeAll(fresh, [...fresh.program.files.values()]));
    return said;
  };

  it('says what one that begins anew says: other types, other callers, names that are new', () => {
    expect(same(after(['/Link.kt', texts.get('/Link.kt')!.replace('20', '"much"')]))).toContain('Screen.size: string, called 0 times');
    expect(same(after(['/Other.kt', 'package app\nclass Other { fun greet(link: Link) = link.close() }']))).toContain('Link.close: void, called 2 times');
    expect(same(after(['/Other.kt', texts.get('/Other.kt')! + '\nfun Link.more() = 1'], ['/Screen.kt', texts.get('/Screen.kt')!.replace('link.size', 'link.more()')])))
      .toContain('Screen.size: number, called 0 times');
  });

  it('goes on when texts change, and begins anew when packages do', () => {
    expect(after(['/Link.kt', texts.get('/Link.kt')!.replace('20', '30')]).goesOn).toBe(true);
    const moved = after(['/Link.kt', texts.get('/Link.kt')!.replace('package app', 'package other')]);
    expect(moved.goesOn).toBe(false);
    same(moved);
  });
});
