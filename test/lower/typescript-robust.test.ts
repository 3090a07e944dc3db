/**
 * Lowering is total: no text makes it throw or hang, and whatever comes out keeps
 * the invariants of the model. Properties over made-up and damaged texts, and the
 * shapes of text that exhaust a stack.
 */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { lowerTypeScript } from '../../server/frontend/typescript/index.js';
import { violations } from '../../server/ir/invariants.js';
import { print } from '../../server/ir/print.js';
import { walk } from '../../server/ir/walk.js';
import { corpus } from './typescript-corpus.js';
import { declarations } from './typescript-declarations.js';
import { expressions } from './typescript-expressions.js';
import { statements } from './typescript-statements.js';

const endings = ['.ts', '.tsx', '.js', '.jsx', '.mts', '.d.ts', '.vue', '.svelte'];
const ending = fc.constantFrom(...endings);

/** All constructs, each a text of its own, and our own sources. */
const texts = [
  ...[...expressions, ...statements, ...declarations].map((construct) => construct.source),
  ...corpus('own').map(({ text }) => text),
];
const wholeText = fc.constantFrom(...texts);
const script = (text: string, end: string): string => (end === '.vue' || end === '.svelte' ? `<script>${text}</script>` : text);

function expectSound(text: string, path: string): void {
  const file = lowerTypeScript(text, path);
  expect(violations(file, text.length)).toEqual([]);
  expect(print(file)).toMatch(/^\(file/);
}

function tokensOf(text: string): string[] {
  return text.match(/[\w$]+|\s+|[^\w\s]/g) ?? [];
}

describe('any text', () => {
  it('of any characters', () => {
    fc.assert(fc.property(fc.string({ unit: 'binary', maxLength: 200 }), ending, (text, end) => expectSound(text, `a${end}`)), { numRuns: 2_000 });
  });

  it('of the language’s own tokens in any order', () => {
    const token = fc.constantFrom(...new Set(texts.slice(0, 120).flatMap(tokensOf)), '<script>', '</script>', '<!--', '-->', '`', '${', '/*', '//', '@', '#');
    const text = fc.array(token, { maxLength: 60 }).map((tokens) => tokens.join(''));
    fc.assert(fc.property(text, ending, (made, end) => expectSound(made, `a${end}`)), { numRuns: 4_000 });
  });

  it('cut off anywhere', () => {
    fc.assert(fc.property(wholeText, fc.nat(), ending, (text, at, end) => {
      const cut = script(text, end).slice(0, at % (text.length + 1));
      expectSound(cut, `a${end}`);
    }), { numRuns: 1_500 });
  });

  it('without some of its tokens', () => {
    fc.assert(fc.property(wholeText, fc.array(fc.nat(), { minLength: 1, maxLength: 4 }), ending, (text, gone, end) => {
      const tokens = tokensOf(text);
      for (const at of gone) tokens[at % Math.max(1, tokens.length)] = '';
      expectSound(script(tokens.join(''), end), `a${end}`);
    }), { numRuns: 1_500 });
  });
});

describe('text that is nested or chained very deep', () => {
  const deep = 20_000;
  it.each<[string, string]>([
    ['parentheses', '('.repeat(deep) + ')'.repeat(deep)],
    ['lists that never close', '['.repeat(deep)],
    ['blocks', '{'.repeat(deep) + '}'.repeat(deep)],
    ['functions', 'function f() {'.repeat(deep)],
    ['arrows', 'a => '.repeat(deep) + 'b'],
    ['else-if chains', 'if (a) b(); else '.repeat(deep) + 'c();'],
    ['conditionals', 'a ? b : '.repeat(deep) + 'c;'],
    ['sums', 'a + '.repeat(deep) + 'b;'],
    ['calls in a chain', 'a' + '.b()'.repeat(deep) + ';'],
    ['negations', '!'.repeat(deep) + 'a;'],
    ['templates', '`${'.repeat(deep)],
    ['array types', 'let a: X' + '[]'.repeat(deep) + ';'],
    ['type arguments', 'let a: ' + 'X<'.repeat(deep)],
    ['object patterns', 'const ' + '{ a: '.repeat(deep)],
    ['markup', '<a>'.repeat(deep)],
    ['opening script tags', '<script "'.repeat(deep)],
  ])('%s', (_, text) => {
    for (const end of ['.ts', '.tsx', '.vue']) {
      const file = lowerTypeScript(text, `a${end}`);
      let nodes = 0;
      walk(file, () => { nodes++; });
      expect(nodes).toBeGreaterThan(0);
      expect(violations(file, text.length)).toEqual([]);
    }
  });

  it('what is given up is named as unreadable, and a neighbour is still read', () => {
    const text = `use(1);\nconst a = x${'.b()'.repeat(600)};\nuse(2);`;
    const file = lowerTypeScript(text, 'a.ts');
    expect(file.body.stmts).toHaveLength(3);
    expect(file.unreadable).toHaveLength(1);
    expect(print(file.body.stmts[2]!)).toBe('(do (call use 2))');
  });

  it('a long sum loses its shape, but none of its calls', () => {
    const file = lowerTypeScript(`const a = ${Array.from({ length: 2_000 }, (_, i) => `f(${i})`).join(' + ')};`, 'a.ts');
    let calls = 0;
    walk(file, (node) => { calls += node.kind === 'Call' ? 1 : 0; });
    expect(calls).toBe(2_000);
    expect(file.unreadable).toEqual([]);
  });
});
