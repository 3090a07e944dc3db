import { readFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import Ajv from 'ajv-draft-04';
import addFormats from 'ajv-formats';
import { describe, expect, it } from 'vitest';
import type { Fix } from '../../server/engine/rule.js';
import type { CheckReport } from '../../server/report/report.js';
import { sarifReport, type SarifOptions } from '../../server/report/sarif.js';
import { check, finding, at, LINK, LINK_PATH, report, someCoverage } from './reports.js';

// The schema of the OASIS standard (SARIF 2.1.0, as published with JSON Schema draft 4) comes with a package of matchers.
const schemaPath = createRequire(import.meta.url).resolve('@microsoft/jest-sarif/lib/schemas/sarif-2.1.0-rtm.5.json');
const ajv = addFormats(new Ajv({ strict: false, allErrors: true, unicodeRegExp: false }));
const isValid = ajv.compile(JSON.parse(readFileSync(schemaPath, 'utf8')) as object);

const rule = (id: string, page?: string) => ({ id, title: `About ${id}`, harm: 'Harm is done.', severity: 'warning' as const, ...(page !== undefined && { page }) });

const OPTIONS: SarifOptions = {
  version: '1.2.3',
  rules: [rule('link-not-closed', '# Link not closed\n\nUse `close()`; see [the manual](page.md).\n\n```kotlin\ngatt.close()\n```\n'), rule('status-unchecked')],
  editsOf: () => undefined,
};

interface Log {
  runs: [{
    tool: { driver: { rules: { help: { text: string } }[] } };
    originalUriBaseIds: Record<string, { uri: string }>;
    columnKind: string;
    invocations: [{ executionSuccessful: boolean; toolExecutionNotifications: { level: string; message: { text: string } }[] }];
    results: Result[];
    properties?: { coverage: unknown };
  }];
}
interface Result {
  ruleId: string; ruleIndex?: number; level: string; partialFingerprints: Record<string, string>;
  locations: [{ physicalLocation: { artifactLocation: { uri: string; uriBaseId?: string }; region: Record<string, number> }; logicalLocations?: { fullyQualifiedName: string }[] }];
  relatedLocations?: { message: { text: string } }[];
  suppressions?: { kind: string; justification: string }[];
  fixes?: { description: { text: string }; artifactChanges: { replacements: { deletedRegion: Record<string, number>; insertedContent?: { text: string } }[] }[] }[];
}

function log(input: CheckReport = report(), options: Partial<SarifOptions> = {}): Log {
  const parsed = JSON.parse(sarifReport(input, { ...OPTIONS, ...options })) as Log;
  expect(isValid(parsed), JSON.stringify(isValid.errors, undefined, 1)).toBe(true);
  return parsed;
}

/** Rule and fingerprint of every result, in order. */
function prints(input: CheckReport): string[] {
  return log(input).runs[0].results.map((result) => `${result.ruleId} ${Object.values(result.partialFingerprints).join()}`);
}

it('the schema would refuse what is no SARIF', () => {
  expect(isValid({ version: '2.1.0', runs: [{ results: [] }] })).toBe(false);
});

describe('a SARIF log', () => {
  it('validates against the schema of the standard, empty or full', () => {
    log(report(LINK, { checks: [] }));
    log(report(), { coverage: someCoverage });
  });

  it('has levels error, warning and note, and rules by index', () => {
    expect(log().runs[0].results.map(({ ruleId, level, ruleIndex }) => [ruleId, level, ruleIndex])).toEqual([
      ['link-not-closed', 'warning', 0], ['start-result-unchecked', 'note', undefined], ['start-result-unchecked', 'note', undefined],
      ['operation-outside-queue', 'warning', undefined], ['status-unchecked', 'error', 1],
    ]);
  });

  it('has relative URIs under a base, escaped part by part, and columns in UTF-16 code units', () => {
    const [run] = log().runs;
    expect(run.columnKind).toBe('utf16CodeUnits');
    expect(run.originalUriBaseIds).toEqual({ CHECKROOT: { uri: 'file:///work/' } });
    const [place] = run.results[0]!.locations;
    expect(place.physicalLocation.artifactLocation).toEqual({ uri: 'app/Hive%20Link%2B.kt', uriBaseId: 'CHECKROOT' });
    expect(place.physicalLocation.region).toEqual({ startLine: 3, startColumn: 23, endLine: 3, endColumn: 34 });
    expect(place.logicalLocations).toEqual([{ fullyQualifiedName: 'HiveLink.open', kind: 'function' }]);
  });

  it('has whole URIs for files outside of its base', () => {
    const [run] = log(report(LINK, { base: '/work/web' })).runs;
    expect(run.results[0]!.locations[0].physicalLocation.artifactLocation).toEqual({ uri: 'file:///work/app/Hive%20Link%2B.kt' });
  });

  it('points at related places', () => {
    expect(log().runs[0].results[0]!.relatedLocations!.map((place) => place.message.text)).toEqual(['Read here', 'And there']);
  });

  it('keeps accepted findings, as suppressed ones with their reason', () => {
    const suppressed = log().runs[0].results.filter((result) => result.suppressions !== undefined);
    expect(suppressed.map((result) => result.ruleId)).toEqual(['operation-outside-queue']);
    expect(suppressed[0]!.suppressions).toEqual([{ kind: 'inSource', status: 'accepted', justification: 'one peer only' }]);
  });

  it('carries each rule’s page, as Markdown and without its marks', () => {
    expect(log().runs[0].tool.driver.rules[0]!.help.text).toBe('Link not closed\n\nUse close(); see the manual.\n\ngatt.close()');
    expect(log().runs[0].tool.driver.rules[1]!.help.text).toBe('About status-unchecked\n\nHarm is done.');
  });

  it('carries fixes where they can be written', () => {
    const fix: Fix = { title: 'Close it', trust: 'review', edits: [] };
    const start = at(LINK, 'gatt.read').start;
    const [run] = log(report(LINK, { checks: [check(LINK_PATH, LINK, [finding({ rule: 'r', at: at(LINK, 'connectGatt'), fixes: [fix, { ...fix, title: 'Cannot' }] })])] }), {
      editsOf: (path, one) => (one.title === 'Cannot' ? undefined : [{ path, edits: [{ at: { start, end: start }, text: 'x\n' }, { at: { start: start + 1, end: start + 2 }, text: '' }] }]),
    }).runs;
    expect(run.results[0]!.fixes).toEqual([{
      description: { text: 'Close it' },
      artifactChanges: [{
        artifactLocation: { uri: 'app/Hive%20Link%2B.kt', uriBaseId: 'CHECKROOT' },
        replacements: [
          { deletedRegion: { startLine: 7, startColumn: 9, endLine: 7, endColumn: 9 }, insertedContent: { text: 'x\n' } },
          { deletedRegion: { startLine: 7, startColumn: 10, endLine: 7, endColumn: 11 } },
        ],
      }],
    }]);
  });

  it('says what was not checked, left out and assumed, and that the run did not succeed where a rule failed', () => {
    const checks = [check(LINK_PATH, LINK, [], { problems: [{ rule: 'r', path: LINK_PATH, message: 'gave way' }] })];
    const [invocation] = log(report(LINK, { checks, assumed: ['No profile.'], notes: [{ path: LINK_PATH, message: 'Left out.' }] })).runs[0].invocations;
    expect(invocation.executionSuccessful).toBe(false);
    expect(invocation.toolExecutionNotifications.map(({ level, message }) => `${level}: ${message.text}`)).toEqual(['error: r: gave way', 'note: Left out.', 'note: No profile.']);
    expect(log().runs[0].invocations[0].executionSuccessful).toBe(true);
  });
});

describe('fingerprints', () => {
  it('stay the same when lines are inserted above, blanks change, or the file moves', () => {
    const before = prints(report());
    expect(prints(report(`// A new line.\n\n${LINK}`))).toEqual(before);
    expect(prints(report(LINK.replace('device.connectGatt(context, false', 'device.connectGatt( context,  false')))).toEqual(before);
    expect(prints(report(LINK.replaceAll('    ', '\t')))).toEqual(before);
  });

  it('tell apart findings that agree in rule, function and text', () => {
    const all = prints(report());
    expect(new Set(all).size).toBe(all.length);
  });

  it('change with the line’s text, and only there', () => {
    const before = prints(report());
    const after = prints(report(LINK.replace('(context, false', '(context, true')));
    expect(after[0]).not.toBe(before[0]);
    expect(after.slice(1)).toEqual(before.slice(1));
  });
});
