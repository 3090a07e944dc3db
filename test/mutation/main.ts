/**
 * `npm run mutate`: plants faults in the innocent apps, one at a time, and prints how many the checker finds. Ends with
 * status 1 when it finds too few, or says something else beside.
 *
 * `--quick` takes every sixth mutant; `--show PATH:LINE` prints those planted there; `--compile` gives the Kotlin mutants to kotlinc.
 */
import { join } from 'node:path';
import { appAt, appsIn, type App } from '../apps/apps.js';

import { compileKotlin } from './compile.js';
import { Ground } from './ground.js';
import { Judge, type Verdict } from './judge.js';
import { mutantsOf } from './plant.js';
import { isGood, notesOn, sumOf, tableOf, textOf } from './table.js';

/** The innocent apps, and the demo: what is wrong with it already is no place to plant, and not held against a mutant. */
export function appsFor(tests: string): readonly App[] {
  return [...appsIn(join(tests, 'apps')), appAt(join(tests, 'workspaces'), 'hive-scale')];
}

/** @param tests the folder of the tests, absolute */
export function verdictsOn(tests: string, every = 1): readonly Verdict[] {
  return appsFor(tests).flatMap((app) => {
    const ground = new Ground(app);
    const judge = new Judge(ground);
    return mutantsOf(ground).filter((mutant) => !judge.isFaulty(mutant)).filter((_, i) => i % every === 0).map((mutant) => judge.of(mutant));
  });
}

export function run(tests: string, options: readonly string[]): number {
  const verdicts = verdictsOn(tests, options.includes('--quick') ? 6 : 1);
  const sum = sumOf(verdicts);
  const shown = options[options.indexOf('--show') + 1];
  if (options.includes('--show')) {
    for (const verdict of verdicts.filter(({ at }) => at === shown)) console.log(textOf(verdict));
    return 0;
  }
  console.log(tableOf(verdicts));
  console.log(notesOn(verdicts));
  const compiles = !options.includes('--compile') || compileKotlin(tests, appsFor(tests), verdicts);
  return isGood(sum) && compiles ? 0 : 1;
}
