import { describe, expect, it } from 'vitest';
import { rule, type Draft, type Rule } from '../../server/engine/rule.js';
import { runRules } from '../../server/engine/run.js';
import { defaultSettings, type Settings } from '../../server/engine/settings.js';
import type { Facts } from '../../server/facts/facts.js';
import type { File, Span } from '../../server/ir/ir.js';
import { lowerKotlin } from '../../server/frontend/kotlin/index.js';

const facts = {} as Facts;

function ruleOf(id: string, ...drafts: Draft[]): Rule {
  return rule({ id, title: id, harm: '', severity: 'warning', sources: [], check: (_facts, report) => drafts.forEach(report) });
}

function at(text: string, piece: string): Span {
  const start = text.indexOf(piece);
  return { start, end: start + piece.length };
}

const TEXT = `class HiveLink {
    private fun read() { gatt.readCharacteristic(weight) }
    companion object {
        fun open() { device.connectGatt(null, false, callback) }
    }
}
`;
const FILE = lowerKotlin(TEXT, '/app/HiveLink.kt');

function run(rules: readonly Rule[], file: File = FILE, settings: Settings = defaultSettings) {
  return runRules(rules, facts, file, { settings });
}

describe('running rules', () => {
  it('loses only the findings of a rule that throws', () => {
    const broken = rule({
      ...ruleOf('broken'),
      check(_facts, report) {
        report({ at: at(TEXT, 'open'), message: 'said before the end' });
        throw new Error('no such field');
      },
    });
    const { findings, problems } = run([broken, ruleOf('sound', { at: at(TEXT, 'gatt'), message: 'kept' })]);
    expect(findings.map((finding) => finding.message)).toEqual(['kept']);
    expect(problems).toMatchObject([{ rule: 'broken', path: '/app/HiveLink.kt', message: 'no such field' }]);
  });

  it('names what is thrown though it is no error', () => {
    const { problems } = run([{ ...ruleOf('odd'), check() { throw 'text'; } }]);
    expect(problems).toEqual([{ rule: 'odd', path: '/app/HiveLink.kt', message: 'text' }]);
  });

  it('orders by place, then by rule, whatever order the rules ran in', () => {
    const late = { at: at(TEXT, 'connectGatt'), message: 'late' };
    const early = { at: at(TEXT, 'readCharacteristic'), message: 'early' };
    const order = (rules: Rule[]) => run(rules).findings.map((finding) => `${finding.rule} ${finding.message}`);
    const expected = ['a early', 'b early', 'b late'];
    expect(order([ruleOf('b', late, early), ruleOf('a', early)])).toEqual(expected);
    expect(order([ruleOf('a', early), ruleOf('b', early, late)])).toEqual(expected);
  });

  it('says a thing once that a rule comes to twice', () => {
    const twice = { at: at(TEXT, 'gatt'), message: 'again' };
    expect(run([ruleOf('a', twice, twice), ruleOf('b', twice)]).findings.map((finding) => finding.rule)).toEqual(['a', 'b']);
  });

  it('says nothing about text that could not be read', () => {
    const text = 'class A {\n    fun f() { gatt.( }\n}\n';
    const file = lowerKotlin(text, '/app/A.kt');
    expect(file.unreadable.length).toBeGreaterThan(0);
    const [range] = file.unreadable;
    const inside = { at: range!, message: 'inside' };
    const outside = { at: at(text, 'class A'), message: 'outside' };
    expect(run([ruleOf('a', inside, outside)], file).findings.map((finding) => finding.message)).toEqual(['outside']);
  });

  it('names the function around a finding, outermost class first', () => {
    const draft = (piece: string) => ({ at: at(TEXT, piece), message: piece });
    const { findings } = run([ruleOf('a', draft('class'), draft('readCharacteristic'), draft('connectGatt'))]);
    expect(findings.map((finding) => [finding.message, finding.within])).toEqual([
      ['class', 'HiveLink'], ['readCharacteristic', 'HiveLink.read'], ['connectGatt', 'HiveLink.open'],
    ]);
  });

  it('gives related places without a path the file under check', () => {
    const related = [{ at: at(TEXT, 'gatt'), message: 'here' }, { path: '/app/Other.kt', at: { start: 0, end: 1 }, message: 'there' }];
    const { findings } = run([ruleOf('a', { at: at(TEXT, 'weight'), message: 'm', related })]);
    expect(findings[0]!.related.map((place) => place.path)).toEqual(['/app/HiveLink.kt', '/app/Other.kt']);
  });

  it('does not run a rule that is off, and times the others', () => {
    let ticks = 0;
    const settings: Settings = { levels: new Map([['a', 'off']]), failOn: 'warning' };
    const { findings, times } = runRules([ruleOf('a', { at: at(TEXT, 'gatt'), message: 'm' }), ruleOf('b')], facts, FILE, {
      settings, clock: () => ticks++ * 5,
    });
    expect(findings).toEqual([]);
    expect([...times]).toEqual([['b', 5]]);
  });
});

describe('severity', () => {
  const own = (severity?: Draft['severity']) => ({ at: at(TEXT, 'gatt'), message: 'm', ...(severity && { severity }) });
  const levelWith = (set: 'off' | 'hint' | 'warning' | 'error' | undefined, draft: Draft) =>
    run([ruleOf('a', draft)], FILE, { levels: new Map(set === undefined ? [] : [['a', set]]), failOn: 'warning' }).findings[0]?.severity;

  it('is the rule’s, or the finding’s own', () => {
    expect(levelWith(undefined, own())).toBe('warning');
    expect(levelWith(undefined, own('hint'))).toBe('hint');
    expect(levelWith(undefined, own('error'))).toBe('error');
  });

  it('follows a setting, but a case that the rule graded lower stays lower', () => {
    expect(levelWith('error', own())).toBe('error');
    expect(levelWith('error', own('hint'))).toBe('hint');
    expect(levelWith('hint', own())).toBe('hint');
    expect(levelWith('hint', own('error'))).toBe('hint');
    expect(levelWith('off', own('error'))).toBeUndefined();
  });
});
