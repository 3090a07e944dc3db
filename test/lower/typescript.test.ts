/**
 * What each construct of TypeScript lowers to, and where its pieces stand.
 *
 * Each expected model was read against the program model's own definitions; that
 * the compiler sees the same calls, functions, classes and comments is checked
 * apart, over real sources.
 */
import { describe, expect, it } from 'vitest';
import { lowerTypeScript } from '../../server/frontend/typescript/index.js';
import { violations } from '../../server/ir/invariants.js';
import type { File, Span } from '../../server/ir/ir.js';
import { print } from '../../server/ir/print.js';
import { findAll } from '../../server/ir/walk.js';
import { declarations } from './typescript-declarations.js';
import { expressions } from './typescript-expressions.js';
import { statements } from './typescript-statements.js';

function onOneLine(file: File): string {
  return print(file).replace(/\s+/g, ' ').replace(/^\(file ?/, '').replace(/\)$/, '');
}

function textsOf(source: string, spans: readonly (Span | undefined)[]): string[] {
  return spans.map((span) => (span === undefined ? '' : source.slice(span.start, span.end)));
}

describe.each([['expressions', expressions], ['statements', statements], ['declarations', declarations]] as const)('%s', (_, constructs) => {
  it.each(constructs)('$name', ({ source, model, path = 'hive.ts' }) => {
    const file = lowerTypeScript(source, path);
    expect(onOneLine(file)).toBe(model);
    expect(violations(file, source.length)).toEqual([]);
  });
});

describe('places', () => {
  const headsOf = (source: string): string[] => textsOf(source, findAll(lowerTypeScript(source, 'a.ts'), 'Fn').map((fn) => fn.headSpan));

  it('a head reaches from the first modifier to the end of the result type', () => {
    expect(headsOf('export async function f(a: X): Promise<void> { g(); }')).toEqual(['export async function f(a: X): Promise<void>']);
    expect(headsOf('class A { @on("x") private m(a, b = (1), ) { } get b() { } constructor(readonly c) { } }')).toEqual([
      'private m(a, b = (1), )', 'get b()', 'constructor(readonly c)',
    ]);
    expect(headsOf('on(async (e) => e.a, e => e, function () {});')).toEqual(['async (e)', 'e', 'function ()']);
  });

  it('a member has the place of its name, a variable that of its binding', () => {
    const source = 'const { a: first } = link?.gatt.read();';
    const file = lowerTypeScript(source, 'a.ts');
    expect(textsOf(source, findAll(file, 'Member').map((member) => member.nameSpan))).toEqual(['read', 'gatt']);
    expect(textsOf(source, findAll(file, 'Let').flatMap((node) => node.bindings.map((binding) => binding.span)))).toEqual(['first']);
  });

  it('a statement has its semicolon, a lone declaration its keyword, parentheses belong to nobody', () => {
    const source = 'const a = (b + c);\n(d).e();';
    const file = lowerTypeScript(source, 'a.ts');
    expect(textsOf(source, file.body.stmts.map((stmt) => stmt.span))).toEqual(['const a = (b + c);', '(d).e();']);
    expect(textsOf(source, findAll(file, 'Binary').map((node) => node.span))).toEqual(['b + c']);
  });

  it('text pieces of a template stand between its marks', () => {
    const source = 'use(`ab${c}de`);';
    expect(textsOf(source, findAll(lowerTypeScript(source, 'a.ts'), 'Literal').map((node) => node.span))).toEqual(['ab', 'de']);
  });
});

describe('files', () => {
  it.each([
    ['src/link.ts', 'src/link'], ['src/link.d.ts', 'src/link'], ['a.b/page.component.tsx', 'a.b/page.component'], ['x/View.vue', 'x/View'], ['none', 'none'],
  ])('%s is module %s', (path, module) => {
    expect(lowerTypeScript('', path).module).toBe(module);
  });

  it('comments are those between tokens only', () => {
    const source = '// one\nconst a = "// no"; /* two */ const b = `/* no */${c /* three */}`;\nconst d = /a\\/\\/no/; /** four */ function f() { /* five */ }\n//';
    expect(textsOf(source, lowerTypeScript(source, 'a.ts').comments)).toEqual(['// one', '/* two */', '/* three */', '/** four */', '/* five */', '//']);
  });

  it('the text of markup holds no comments', () => {
    const source = 'const a = <p title="// no">// no {/* yes */} /* no */</p>;';
    expect(textsOf(source, lowerTypeScript(source, 'a.tsx').comments)).toEqual(['/* yes */']);
  });

  it('what the parser could not read is named, in order', () => {
    const source = 'const = 1;\nuse(;\nfine();';
    const { unreadable } = lowerTypeScript(source, 'a.ts');
    expect(unreadable.length).toBeGreaterThan(1);
    expect(unreadable.every((span, i) => span.end <= source.indexOf('fine') && span.start >= (unreadable[i - 1]?.end ?? 0))).toBe(true);
    expect(lowerTypeScript('fine();', 'a.ts').unreadable).toEqual([]);
  });

  it('endings tell markup and casts apart', () => {
    expect(onOneLine(lowerTypeScript('use(<T>a);', 'a.mts'))).toBe('(do (call use (as a T)))');
    expect(onOneLine(lowerTypeScript('use(<T>a</T>);', 'a.js'))).toBe('(do (call use (markup T (object) "a")))');
  });
});

describe('single-file components', () => {
  const component = [
    '<!-- <script>no()</script> -->', '<script lang="ts" generic="T extends A<B>">', 'import { a } from "./a"', 'a(1) // one', '</script>',
    '<template><p @click="no()">// no</p></template>', '<script setup>b(2)</script>', '<style>/* no */</style>', '',
  ].join('\n');

  it.each(['Scale.vue', 'Scale.svelte'])('%s: only scripts are read, at their own offsets', (path) => {
    const file = lowerTypeScript(component, path);
    expect(onOneLine(file)).toBe('(import "./a" a) (do (call a 1)) (do (call b 2))');
    expect(textsOf(component, findAll(file, 'Call').map((call) => call.span))).toEqual(['a(1)', 'b(2)']);
    expect(textsOf(component, file.comments)).toEqual(['// one']);
    expect(file.unreadable).toEqual([]);
    expect(violations(file, component.length)).toEqual([]);
  });

  it('markup in a script is read where the script says so', () => {
    expect(onOneLine(lowerTypeScript('<script lang="tsx">use(<p/>)</script>', 'A.vue'))).toBe('(do (call use (markup p (object))))');
  });

  it('a script that is not closed reaches to the end', () => {
    expect(onOneLine(lowerTypeScript('<script>use(1)', 'A.vue'))).toBe('(do (call use 1))');
    expect(onOneLine(lowerTypeScript('<script src="./a.js"/><p>use(1)</p>', 'A.vue'))).toBe('');
  });
});
