/** Every case under `cases/`: the resolver's answer at each mark. */
import { readdirSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { check, readCases } from './marks.js';

const folder = new URL('cases/', import.meta.url);

for (const name of readdirSync(folder).sort()) {
  describe(name.replace(/\.md$/, ''), () => {
    for (const one of readCases(new URL(name, folder))) {
      it(one.title, () => {
        const checked = check(one);
        expect(checked.length, 'a case has at least one mark').toBeGreaterThan(0);
        expect(checked.map(({ mark, actual }) => `${mark} → ${actual}`)).toEqual(checked.map(({ mark, expected }) => `${mark} → ${expected}`));
      });
    }
  });
}
