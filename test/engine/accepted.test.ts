import { describe, expect, it } from 'vitest';
import { applyAcceptances } from '../../server/engine/accepted.js';
import { applyEdits } from '../../server/engine/edits.js';
import type { Finding } from '../../server/engine/rule.js';
import { defaultSettings } from '../../server/engine/settings.js';
import { lowerKotlin } from '../../server/frontend/kotlin/index.js';
import { lowerTypeScript } from '../../server/frontend/typescript/index.js';

const IDS = ['link-not-closed', 'status-unchecked', 'start-result-unchecked'];

/** Each `‹rule›` before a word in the text is a finding of that rule at the word. */
function apply(marked: string, path = '/app/A.kt', complete: readonly string[] = IDS) {
  const marks: { rule: string; start: number }[] = [];
  let text = '';
  for (const [, before = '', rule] of marked.matchAll(/([^‹]*)(?:‹([a-z-]+)›)?/g)) {
    text += before;
    if (rule !== undefined) marks.push({ rule, start: text.length });
  }
  const file = path.endsWith('.kt') ? lowerKotlin(text, path) : lowerTypeScript(text, path);
  const findings = marks.map(({ rule, start }): Finding => ({
    rule, severity: 'warning', path, at: { start, end: start + 1 }, message: rule, related: [], fixes: [], within: '',
  }));
  const outcome = applyAcceptances(file, text, findings, { ruleIds: new Set(IDS), complete: new Set(complete), settings: defaultSettings });
  const fixed = outcome.open.flatMap((finding) => finding.fixes).map((fix) => {
    const edits = fix.edits.flatMap((edit) => (edit.do === 'text' ? [{ at: edit.at, text: edit.text }] : []));
    return applyEdits(text, edits);
  });
  return {
    text, fixed,
    open: outcome.open.map((finding) => finding.rule),
    says: outcome.open.filter((finding) => finding.rule.startsWith('acceptance')).map((finding) => finding.message),
    severities: outcome.open.map((finding) => finding.severity),
    accepted: outcome.accepted.map(({ finding, reason }) => `${finding.rule}: ${reason}`),
  };
}

describe('an acceptance takes its finding away', () => {
  it.each([
    ['above the line', '// linkwright accepts link-not-closed: ends with the process\nval g = d.‹link-not-closed›connectGatt(c, false, cb)\n'],
    ['at the end of the line', 'val g = d.‹link-not-closed›connectGatt(c, false, cb) // linkwright accepts link-not-closed: ends with the process\n'],
    ['in a block comment', '/* linkwright accepts link-not-closed: ends with the process */\nval g = d.‹link-not-closed›connectGatt(c, false, cb)\n'],
    ['in a block comment over lines', '/*\n * linkwright accepts link-not-closed: ends\n * with the process\n */\nval g = d.‹link-not-closed›connectGatt(c)\n'],
    ['with other comments between', '// linkwright accepts link-not-closed: ends with the process\n// One link only.\n\nval g = d.‹link-not-closed›connectGatt(c)\n'],
    ['for a chain over several lines', '// linkwright accepts link-not-closed: ends with the process\nval g = d\n    .‹link-not-closed›connectGatt(c)\n'],
    ['below annotations', 'class A {\n    // linkwright accepts link-not-closed: ends with the process\n    @Ann\n    ‹link-not-closed›override fun f() {}\n}\n'],
    ['for one of several rules', '// linkwright accepts link-not-closed, status-unchecked: ends with the process\n‹link-not-closed›a‹status-unchecked›b()\n'],
    ['with Windows line ends', '// linkwright accepts link-not-closed: ends with the process\r\nval g = d.‹link-not-closed›connectGatt(c)\r\n'],
  ])('%s, in Kotlin', (_where, marked) => {
    const { open, accepted } = apply(marked);
    expect(open).toEqual([]);
    expect(accepted[0]).toBe('link-not-closed: ends with the process');
  });

  it.each([
    ['a statement', '// linkwright accepts status-unchecked: the page shows it\nawait s.‹status-unchecked›connect();\n', '/web/a.ts'],
    ['the end of a line', 'await s.‹status-unchecked›connect(); /* linkwright accepts status-unchecked: the page shows it */\n', '/web/a.ts'],
    ['an element', 'const e = <p>\n  {/* linkwright accepts status-unchecked: the page shows it */}\n  <b onClick={() => ‹status-unchecked›go()} />\n</p>;\n', '/web/a.tsx'],
  ])('for %s, in TypeScript', (_where, marked, path) => {
    expect(apply(marked, path)).toMatchObject({ open: [], accepted: ['status-unchecked: the page shows it'] });
  });
});

describe('an acceptance leaves other findings alone', () => {
  it.each([
    ['another rule', '// linkwright accepts link-not-closed: why\nval g = d.‹link-not-closed›a(d.‹status-unchecked›b())\n', ['status-unchecked']],
    ['the line after the next', '// linkwright accepts link-not-closed: why\n‹link-not-closed›a()\n‹link-not-closed›b()\n', ['link-not-closed']],
    ['a block inside the statement', '// linkwright accepts link-not-closed: why\nif (‹link-not-closed›a()) {\n    ‹link-not-closed›b()\n}\n', ['link-not-closed']],
    ['the members of a class', '// linkwright accepts link-not-closed: why\nclass ‹link-not-closed›A {\n    val g = ‹link-not-closed›b()\n}\n', ['link-not-closed']],
    ['the line above a comment at its end', '‹link-not-closed›a()\n‹link-not-closed›b() // linkwright accepts link-not-closed: why\n', ['link-not-closed']],
  ])('%s', (_what, marked, open) => {
    expect(apply(marked.startsWith('class') || marked.includes('\nclass') ? marked : `fun f() {\n${marked}}\n`).open).toEqual(open);
  });

  it('when the words stand in the middle of a comment', () => {
    expect(apply('// Here linkwright accepts link-not-closed: as an example\nval g = ‹link-not-closed›a()\n').open).toEqual(['link-not-closed']);
  });
});

describe('an acceptance that says too little is reported and has no effect', () => {
  it.each([
    ['without a reason', '// linkwright accepts link-not-closed\nval g = ‹link-not-closed›a()\n', 'This acceptance gives no reason after a colon, so it has no effect'],
    ['with an empty reason', '// linkwright accepts link-not-closed:  \nval g = ‹link-not-closed›a()\n', 'This acceptance gives no reason after a colon, so it has no effect'],
    ['without a rule', '// linkwright accepts: it is fine\nval g = ‹link-not-closed›a()\n', 'This acceptance names no rule, so it has no effect'],
    ['with an unknown rule', '// linkwright accepts link-left-open: it is fine\nval g = ‹link-not-closed›a()\n', 'There is no rule named link-left-open'],
  ])('%s', (_what, marked, message) => {
    const outcome = apply(marked);
    expect(outcome.open).toEqual(['acceptance-unexplained', 'link-not-closed']);
    expect(outcome.severities[0]).toBe('hint');
    expect(outcome.says).toEqual([message]);
    expect(outcome.fixed).toEqual(['val g = a()\n']);
  });

  it('with one known and one unknown rule, of which the known one counts', () => {
    const outcome = apply('// linkwright accepts link-not-closed, link-left-open: it is fine\nval g = ‹link-not-closed›a()\n');
    expect(outcome.accepted).toEqual(['link-not-closed: it is fine']);
    expect(outcome.fixed).toEqual(['// linkwright accepts link-not-closed: it is fine\nval g = a()\n']);
  });
});

describe('an acceptance that accepts nothing is reported', () => {
  it('above a line, and goes with its whole line', () => {
    const outcome = apply('fun f() {\n    // linkwright accepts link-not-closed: once it was\n    a()\n}\n');
    expect(outcome.open).toEqual(['acceptance-unused']);
    expect(outcome.says).toEqual(['Nothing here is reported by link-not-closed any more']);
    expect(outcome.fixed).toEqual(['fun f() {\n    a()\n}\n']);
  });

  it('at the end of a line, and goes with the blanks before it', () => {
    expect(apply('val g = a()  // linkwright accepts link-not-closed: once it was\nval h = b()\n').fixed).toEqual(['val g = a()\nval h = b()\n']);
  });

  it('between other code on the line', () => {
    expect(apply('f(/* linkwright accepts link-not-closed: once it was */ 1);\n', '/web/a.ts').fixed).toEqual(['f( 1);\n']);
  });

  it('for one of its rules, which is taken out', () => {
    const outcome = apply('// linkwright accepts status-unchecked, link-not-closed: why\nval g = ‹link-not-closed›a()\n');
    expect(outcome.fixed).toEqual(['// linkwright accepts link-not-closed: why\nval g = a()\n']);
  });

  it('at the end of the file', () => {
    expect(apply('val g = a()\n// linkwright accepts link-not-closed: once it was').fixed).toEqual(['val g = a()\n']);
  });

  it('but not where the rule is off or has failed, so that nobody knows', () => {
    expect(apply('// linkwright accepts link-not-closed: why\nval g = a()\n', '/app/A.kt', ['status-unchecked']).open).toEqual([]);
  });
});
