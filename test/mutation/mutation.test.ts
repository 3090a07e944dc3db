/**
 * A sixth of the mutants of `npm run mutate`, and the tool itself: that edits land where they should, that an app without a
 * fault planted in it brings nothing, and that one planted by hand is found.
 */
import { describe, expect, it } from 'vitest';
import { appAt } from '../apps/apps.js';
import { Ground } from './ground.js';
import { Judge } from './judge.js';
import { appsFor, verdictsOn } from './main.js';
import { misses } from './misses.js';
import { changedBy, MARK, type Mutant } from './mutant.js';
import { operators } from './operators/index.js';
import { mutantsOf } from './plant.js';
import { sumOf } from './table.js';

const TESTS = new URL('../', import.meta.url).pathname;

describe('mutants', () => {
  const verdicts = verdictsOn(TESTS, 6);
  const nameOf = ({ at, operator }: { readonly at: string; readonly operator: string }): string => `${at} ${operator}`;
  const known = new Set(misses.map(nameOf));

  it('are found at the planted place, but for those listed as missed today', () => {
    const missed = verdicts.filter(({ outcome }) => outcome === 'missed' || outcome === 'broken').map(({ at, mutant }) => nameOf({ at, operator: mutant.operator }));
    expect(missed.filter((name) => !known.has(name))).toEqual([]);
  });

  it('are taken off the list of misses once they are found', () => {
    const found = verdicts.filter(({ outcome }) => outcome === 'found').map(({ at, mutant }) => nameOf({ at, operator: mutant.operator }));
    expect(found.filter((name) => known.has(name))).toEqual([]);
  });

  it('light nothing else up, and equivalent ones nothing at all', () => {
    expect(verdicts.filter(({ extra }) => extra.length > 0).map(({ at, mutant, extra }) => [at, mutant.operator, ...extra])).toEqual([]);
  });

  it('are enough of each sort', () => {
    const all = appsFor(TESTS).flatMap((app) => mutantsOf(new Ground(app)));
    expect(all.length).toBeGreaterThanOrEqual(250);
    expect(operators.filter(({ name }) => !all.some(({ operator }) => operator === name))).toEqual([]);
    expect(sumOf(verdicts).planted).toBeGreaterThanOrEqual(40);
  });
});

describe('the judge', () => {
  const ground = new Ground(appAt(`${TESTS}apps`, 'frost-watch'));
  const judge = new Judge(ground);
  const path = 'frost-watch/app/src/main/kotlin/app/frostwatch/FrostLink.kt';
  const text = ground.textOf(path);
  const checked = 'if (!gatt.discoverServices()) fail(gatt, "discovery refused")';

  function mutant(edited: string, rule: Mutant['rule'] = 'start-result-unchecked'): Mutant {
    const start = text.indexOf(checked);
    return { app: 'frost-watch', operator: 'by hand', path, edits: [{ path, at: { start, end: start + checked.length }, text: edited }], rule, places: [], level: 'warning', also: [] };
  }

  it('finds a dropped flag at its mark', () => {
    expect(judge.of(mutant(`gatt.${MARK}discoverServices()`))).toMatchObject({ outcome: 'found', extra: [] });
  });

  it('says nothing of lines that have only moved', () => {
    expect(judge.of(mutant(`\n\n// Further down.\n${checked}`))).toMatchObject({ outcome: 'missed', extra: [], news: [] });
  });

  it('counts a finding of another rule as something else', () => {
    const { outcome, extra } = judge.of(mutant(`gatt.${MARK}discoverServices()`, 'link-not-closed'));
    expect(outcome).toBe('missed');
    expect(extra).toHaveLength(1);
  });

  it('takes text that cannot be read for a broken mutant', () => {
    expect(judge.of(mutant('if (!gatt.discoverServices(')).outcome).toBe('broken');
  });
});

describe('edits', () => {
  const before = 'one\ntwo\nthree\nfour\n';
  const at = (word: string) => ({ start: before.indexOf(word), end: before.indexOf(word) + word.length });
  const changed = changedBy([
    { path: 'a', at: at('two'), text: `2\n${MARK}2½` },
    { path: 'a', at: { start: before.length, end: before.length }, text: 'five\n' },
  ], () => before);

  it('are made in the order of the text, without their marks', () => {
    expect(changed.texts.get('a')).toBe('one\n2\n2½\nthree\nfour\nfive\n');
    expect(changed.marks).toEqual(['a:3']);
  });

  it('move the lines below them', () => {
    expect(changed.linesOf({ path: 'a', at: at('one') })).toEqual(['a:1']);
    expect(changed.linesOf({ path: 'a', at: at('three') })).toEqual(['a:4']);
    expect(changed.linesOf({ path: 'a', at: { start: at('three').start, end: at('four').end } })).toEqual(['a:4', 'a:5']);
  });
});
