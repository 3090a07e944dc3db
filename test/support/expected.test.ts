import { describe, expect, it } from 'vitest';
import { differences, expectedFindings, findingsIn } from './expected.mjs';

const LIST = `# What is found

| file | line | rule | severity | why |
|---|---:|---|---|---|
| app/A.kt | 12 | link-not-closed | warning | It is never closed. |
| \`web/b.ts\` | 3 | \`status-unchecked\` | hint | With a \\| in it. |

| file | line | rule that must stay silent | why |
|---|---:|---|---|
| app/A.kt | 99 | link-not-closed | It is closed. |
`;
const A = { file: 'app/A.kt', line: 12, rule: 'link-not-closed', severity: 'warning' };
const B = { file: 'web/b.ts', line: 3, rule: 'status-unchecked', severity: 'hint' };

describe('the list of expected findings', () => {
  it('is the table with file, line, rule and severity', () => {
    expect(expectedFindings(LIST)).toEqual([A, B]);
  });

  it('is refused when it is none', () => {
    expect(() => expectedFindings('# Nothing')).toThrow(/no table/);
    expect(() => expectedFindings(LIST.replace('| 12 |', '| twelve |'))).toThrow(/"twelve" is no line number/);
  });
});

describe('findings', () => {
  it('come from a SARIF log, accepted ones left out', () => {
    const result = (uri: string, startLine: number, ruleId: string, level: string, more = {}) => ({
      ruleId, level, locations: [{ physicalLocation: { artifactLocation: { uri }, region: { startLine } } }], ...more,
    });
    const log = { runs: [{ results: [
      result('demo/app/A.kt', 12, 'link-not-closed', 'warning'), result('demo/web/b.ts', 3, 'status-unchecked', 'note'),
      result('demo/web/b.ts', 4, 'status-unchecked', 'note', { suppressions: [{}] }),
    ] }] };
    expect(findingsIn(log, 'demo')).toEqual([A, B]);
  });

  it('agree with the list, in any order', () => {
    expect(differences([A, B], [B, A])).toEqual([]);
  });

  it('differ where one is missing, too many, twice, or of another severity', () => {
    expect(differences([A, B], [{ ...A, severity: 'hint' }, { ...A, line: 13 }, { ...A }])).toEqual([
      'app/A.kt:12: link-not-closed is of severity hint, expected is warning',
      'app/A.kt:12: not expected: link-not-closed (warning)',
      'app/A.kt:13: not expected: link-not-closed (warning)',
      'web/b.ts:3: missing: status-unchecked (hint)',
    ]);
  });
});
