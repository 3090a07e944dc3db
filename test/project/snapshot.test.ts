import { describe, expect, it } from 'vitest';
import { lowerKotlin } from '../../server/frontend/kotlin/index.js';
import { Snapshot, type Linking } from '../../server/project/snapshot.js';
import type { Program, Resolver } from '../../server/resolve/api.js';

/** Counts what is computed, so that tests can say what was shared. */
function counting() {
  const lowered: string[] = [];
  const linked: string[][] = [];
  const linking: Linking = {
    lower(text, path) {
      lowered.push(`${path}: ${text}`);
      return path.endsWith('.kt') ? lowerKotlin(text, path) : undefined;
    },
    link(files) {
      linked.push(files.map((file) => file.path));
      return {} as Program;
    },
    resolver: () => ({}) as Resolver,
  };
  return { lowered, linked, linking };
}

const disk = (path: string, text?: string) => ({ is: 'disk', path, ...(text !== undefined && { text }) }) as const;
const edited = (path: string, text: string, version: number) => ({ is: 'edited', path, text, version }) as const;
const closed = (path: string) => ({ is: 'closed', path }) as const;

describe('a snapshot', () => {
  it('never changes', () => {
    const { linking } = counting();
    const { snapshot: first } = Snapshot.empty(linking).apply([disk('/A.kt', 'class A')]);
    first.apply([edited('/A.kt', 'class B', 1), disk('/C.kt', 'class C')]);
    expect(first.textOf('/A.kt')).toBe('class A');
    expect(first.isOpen('/A.kt')).toBe(false);
    expect(first.paths('source')).toEqual(['/A.kt']);
  });

  it('shows the editor’s text over the disk’s until the document is closed', () => {
    const { linking } = counting();
    const { snapshot: opened } = Snapshot.empty(linking).apply([disk('/A.kt', 'old'), edited('/A.kt', 'typed', 4)]);
    expect([opened.textOf('/A.kt'), opened.versionOf('/A.kt')]).toEqual(['typed', 4]);
    const { snapshot: changedBelow, changed } = opened.apply([disk('/A.kt', 'saved elsewhere')]);
    expect([...changed]).toEqual([]);
    const { snapshot: after, changed: again } = changedBelow.apply([closed('/A.kt')]);
    expect([after.textOf('/A.kt'), after.versionOf('/A.kt'), ...again]).toEqual(['saved elsewhere', undefined, '/A.kt']);
  });

  it('loses a document that was on no disk when it is closed', () => {
    const { linking } = counting();
    const { snapshot } = Snapshot.empty(linking).apply([edited('/New.kt', 'class New', 1)]);
    expect(snapshot.isOnDisk('/New.kt')).toBe(false);
    const { snapshot: after, changed } = snapshot.apply([closed('/New.kt')]);
    expect([after.textOf('/New.kt'), ...changed]).toEqual([undefined, '/New.kt']);
  });

  it('lowers each text once, also when it comes back from the disk', () => {
    const { linking, lowered } = counting();
    const { snapshot: first } = Snapshot.empty(linking).apply([disk('/A.kt', 'class A'), disk('/B.kt', 'class B')]);
    const model = first.fileOf('/A.kt');
    const { snapshot: second } = first.apply([edited('/B.kt', 'class B2', 1)]);
    expect(second.fileOf('/A.kt')).toBe(model);
    second.fileOf('/B.kt');
    const { snapshot: saved } = second.apply([disk('/B.kt', 'class B2')]);
    const { snapshot: shut, changed } = saved.apply([closed('/B.kt')]);
    expect(shut.fileOf('/B.kt')).toBe(second.fileOf('/B.kt'));
    expect([...changed]).toEqual(['/B.kt']);
    expect(lowered).toEqual(['/A.kt: class A', '/B.kt: class B2']);
  });

  it('links the sources in the order of their paths, and anew only when one of them changed', () => {
    const { linking, linked } = counting();
    const { snapshot } = Snapshot.empty(linking).apply([disk('/B.kt', 'b'), disk('/A.kt', 'a'), disk('/x.device.yaml', 'device: {}'), disk('/c.ts', '')]);
    const { program } = snapshot;
    expect(linked).toEqual([['/A.kt', '/B.kt']]);
    const { snapshot: profiled } = snapshot.apply([disk('/x.device.yaml', 'device: { name: Hive }')]);
    expect(profiled.program).toBe(program);
    const { snapshot: relinked } = profiled.apply([disk('/A.kt', 'a2')]);
    expect(relinked.program).not.toBe(program);
  });

  it('counts a new version without a new text as a change, but links nothing anew', () => {
    const { linking } = counting();
    const { snapshot } = Snapshot.empty(linking).apply([disk('/A.kt', 'a')]);
    const { program } = snapshot;
    const { snapshot: opened, changed } = snapshot.apply([edited('/A.kt', 'a', 1)]);
    expect([...changed]).toEqual(['/A.kt']);
    expect(opened.program).toBe(program);
  });
});
