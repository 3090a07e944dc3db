import { describe, expect, it } from 'vitest';
import { sumCoverage, nothingCovered } from '../../server/engine/coverage.js';
import { coverageText } from '../../server/report/coverage.js';
import { Lines } from '../../server/report/lines.js';
import { levelsText, releaseOf } from '../../server/report/releases.js';
import { textReport } from '../../server/report/text.js';
import { allLimits } from '../../server/catalogue/index.js';
import { check, LINK, LINK_PATH, LIVE_PATH, report, someCoverage } from './reports.js';

describe('the text report', () => {
  it('begins each finding with a place to click on, and indents what belongs to it', () => {
    expect(textReport(report())).toBe(`app/Hive Link+.kt:3:23: warning: This link is never closed [link-not-closed]
    on Android 5.0 to 11 (API 21–30)
    app/Hive Link+.kt:6:5: Read here
    web/live.ts:1:7: And there
app/Hive Link+.kt:7:14: hint: A start-result-unchecked [start-result-unchecked]
app/Hive Link+.kt:8:14: hint: A start-result-unchecked [start-result-unchecked]
web/live.ts:1:22: error: A status-unchecked [status-unchecked]

1 error, 1 warning, 2 hints in 2 files; 1 accepted.
`);
  });

  it('says when there is nothing to say, and of how many files', () => {
    expect(textReport(report(LINK, { checks: [check(LINK_PATH, LINK, [])] }))).toBe('No findings in 1 file.\n');
  });

  it('says what was assumed, left out, and not checked', () => {
    const checks = [check(LINK_PATH, LINK, [], { problems: [{ rule: 'link-not-closed', path: LINK_PATH, message: 'no such node' }] })];
    const notes = [{ path: '/work/app/Big.kt', message: 'The file is larger than 2 MB and was left out.' }];
    expect(textReport(report(LINK, { checks, notes, assumed: ['All 2 files have no device profile.'] }))).toBe(
      'app/Hive Link+.kt: not checked by link-not-closed: internal error: no such node\n\n'
      + 'app/Big.kt: The file is larger than 2 MB and was left out.\n\n'
      + 'Assumed: All 2 files have no device profile.\n\n'
      + 'No findings in 1 file.\n');
  });

  it('writes paths outside of the folder it runs in with a way up', () => {
    expect(textReport(report(LINK, { base: '/work/web' })).split('\n').filter((line) => /^\S.*:\d/.test(line)).map((line) => line.split(':')[0])).toEqual([
      '../app/Hive Link+.kt', '../app/Hive Link+.kt', '../app/Hive Link+.kt', 'live.ts',
    ]);
  });
});

describe('coverage', () => {
  it('is said in figures, with the names that were not recognised', () => {
    const withCoverage = report(LINK, { checks: [check(LINK_PATH, LINK, [], { coverage: someCoverage })] });
    expect(coverageText(withCoverage)).toBe(`Recognised
  links      2 of 3 (66 %)
  operations 7 of 7 (100 %)
  callbacks  0 of 0
  1 function too large to follow
Not recognised: 4 calls whose receiver may be a link but goes through something that is not modelled
  manager.write (3 times), first at app/Hive Link+.kt:1:1
  peer.read, web/live.ts:1:7
`);
  });

  it('is summed over files, names by how often they occur', () => {
    const other = { ...nothingCovered, operations: { known: 1, unknown: 2 }, unresolved: [{ name: 'peer.read', count: 9, at: { path: '/z.ts', span: { start: 0, end: 1 } } }] };
    const sum = sumCoverage([someCoverage, other, nothingCovered]);
    expect(sum.operations).toEqual({ known: 8, unknown: 2 });
    expect(sum.capped).toBe(1);
    expect(sum.unresolved.map(({ name, count, at }) => [name, count, at.path])).toEqual([['peer.read', 10, LIVE_PATH], ['manager.write', 3, LINK_PATH]]);
  });
});

describe('places', () => {
  it('count lines and columns from 1, in UTF-16 code units, over all kinds of line ends', () => {
    const lines = new Lines('a\r\n🐝b\rc\n');
    const places = [0, 1, 3, 5, 6, 7, 9, 99].map((offset) => lines.position(offset)).map(({ line, column }) => `${line}:${column}`);
    expect(places).toEqual(['1:1', '1:2', '2:1', '2:3', '2:4', '3:1', '4:1', '4:1']);
    expect(lines.lineText(5)).toBe('🐝b');
  });
});

describe('releases', () => {
  it.each([
    [{ from: 21, to: 30 }, 'Android 5.0 to 11 (API 21–30)'],
    [{ from: 31, to: 31 }, 'Android 12 (API 31)'],
    [{ from: 33 }, 'Android 13 and later (API 33+)'],
    [{ from: 18, to: 19 }, 'Android up to 4.4 (API 19 and lower)'],
    [{ from: 18 }, 'every Android release'],
    [{ from: 40 }, 'Android API 40 and later (API 40+)'],
  ])('of %j are called %s', (levels, text) => {
    expect(levelsText(levels)).toBe(text);
  });

  it('agree with the names that the catalogue quotes from AOSP', () => {
    let compared = 0;
    for (const { from, release } of allLimits().flatMap((limit) => limit.ranges)) {
      const name = releaseOf(from);
      if (name === undefined) continue;
      expect(release).toContain(name);
      compared++;
    }
    expect(compared).toBeGreaterThan(4);
  });
});
