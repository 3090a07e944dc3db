import { describe, expect, it } from 'vitest';
import type { Face } from '../../server/project/face.js';
import { Freshness } from '../../server/project/freshness.js';

const face = (digest: string, heads: Record<string, string> = {}): Face => ({ digest, heads: new Map(Object.entries(heads)) });
const uses = (...paths: string[]) => new Set(paths);

/** Files by what they consult and which names they say; faces are told when a check ends. */
class World {
  readonly freshness: Freshness;
  readonly files = new Map<string, { consulted: string[]; says: string[]; face: Face }>();
  readonly open = new Set<string>();

  constructor() {
    this.freshness = new Freshness((path, names) => this.files.get(path)?.says.some((name) => names.has(name)) ?? false);
  }

  add(path: string, consulted: string[] = [], says: string[] = [], shows: Face = face(`${path} 1`)): void {
    this.files.set(path, { consulted, says, face: shows });
  }

  /** Checks until nothing is due or `limit` files are done, and says which. */
  run(limit = Infinity): string[] {
    const done: string[] = [];
    while (done.length < limit) {
      const path = this.freshness.next((open) => this.open.has(open));
      if (path === undefined) break;
      const { consulted, face: shows } = this.files.get(path)!;
      this.freshness.finished(path, { consulted: uses(...consulted), face: shows });
      done.push(path);
    }
    return done;
  }

  edit(path: string, shows?: Face): void {
    if (shows !== undefined) this.files.get(path)!.face = shows;
    this.freshness.change({ edited: [path] });
  }
}

/** c consults b, b consults a. */
function chain(): World {
  const world = new World();
  world.add('a');
  world.add('b', ['a']);
  world.add('c', ['b', 'a']);
  world.add('d');
  world.freshness.change({ edited: ['a', 'b', 'c', 'd'] });
  world.run();
  return world;
}

describe('after a change', () => {
  it('checks everything once at the beginning, and then nothing', () => {
    const world = new World();
    world.add('b', ['a'], ['x']);
    world.add('a', ['b'], [], face('a', { x: '1' }));
    world.freshness.change({ edited: ['a', 'b'] });
    expect(world.run()).toEqual(['a', 'b']);
    expect(world.run()).toEqual([]);
  });

  it('stops at the edited file when its face is the same', () => {
    const world = chain();
    world.edit('a');
    expect(world.run()).toEqual(['a']);
  });

  it('goes on to those that consulted the file when its face is another one', () => {
    const world = chain();
    world.edit('a', face('a 2'));
    expect(world.run()).toEqual(['a', 'b', 'c']);
  });

  it('goes on from there only as far as faces differ', () => {
    const world = chain();
    world.files.get('c')!.consulted = ['b'];
    world.edit('c');
    world.run();
    world.edit('a', face('a 2'));
    expect(world.run()).toEqual(['a', 'b']);
    world.files.get('b')!.face = face('b 2');
    world.edit('a', face('a 3'));
    expect(world.run()).toEqual(['a', 'b', 'c']);
  });

  it('puts the edited document first, then open ones, then the rest', () => {
    const world = new World();
    for (const path of ['a', 'b', 'c', 'd', 'e']) world.add(path, path === 'd' ? [] : ['d']);
    world.freshness.change({ edited: ['a', 'b', 'c', 'd', 'e'] });
    world.run();
    world.open.add('d').add('c');
    world.edit('d', face('d 2'));
    expect(world.run()).toEqual(['d', 'c', 'a', 'b', 'e']);
  });

  it('concerns whoever says a name that is new, though nothing could be consulted before', () => {
    const world = chain();
    world.files.get('d')!.says = ['close'];
    world.add('helpers', [], [], face('h', { close: '1' }));
    world.edit('helpers');
    expect(world.run()).toEqual(['helpers', 'd']);
  });

  it('concerns whoever consulted a file that is gone, or says its names', () => {
    const world = chain();
    world.files.get('d')!.says = ['close'];
    world.edit('a', face('a 2', { close: '1' }));
    world.run();
    world.freshness.change({ edited: [], gone: ['a'] });
    world.files.delete('a');
    expect(world.run()).toEqual(['b', 'c', 'd']);
  });

  it('checks again what another profile surrounds', () => {
    const world = chain();
    world.freshness.change({ edited: [], surroundings: ['b', 'd'] });
    expect(world.run()).toEqual(['b', 'd']);
  });
});

describe('after a cancelled run', () => {
  it('goes on with what was left', () => {
    const world = chain();
    world.edit('a', face('a 2'));
    expect(world.run(2)).toEqual(['a', 'b']);
    world.edit('d');
    expect(world.run()).toEqual(['d', 'c']);
  });

  it('checks again what saw a face that is already gone', () => {
    const world = chain();
    // Both are edited at once; b is checked and has seen a’s second face before a itself was checked.
    world.open.add('b');
    world.files.get('a')!.face = face('a 2');
    world.freshness.change({ edited: ['a', 'b'] });
    expect(world.run(1)).toEqual(['b']);
    // Then a is put back as it was, so that its face is the one on record.
    world.edit('a', face('a 1'));
    expect(world.run()).toContain('b');
  });
});
