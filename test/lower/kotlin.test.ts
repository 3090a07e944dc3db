/**
 * What each construct of Kotlin lowers to, where its pieces stand, and what is
 * made of text that is not Kotlin.
 *
 * Each expected model was read against the program model's own definitions; that
 * the Kotlin compiler takes the same sources, and sees the same calls and
 * functions in them, is checked in `kotlin-oracle.test.ts`.
 */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { lowerKotlin } from '../../server/frontend/kotlin/index.js';
import { lex } from '../../server/frontend/kotlin/lexer.js';
import { violations } from '../../server/ir/invariants.js';
import type { File, Span } from '../../server/ir/ir.js';
import { print } from '../../server/ir/print.js';
import { findAll } from '../../server/ir/walk.js';
import { kotlinSources } from '../support/kotlin-corpus.js';
import { NESTINGS } from '../support/kotlin-nestings.js';
import { insideFunction, modelOf, sourceOf } from './kotlin-construct.js';
import { declarations } from './kotlin-declarations.js';
import { expressions, lambdas } from './kotlin-expressions.js';
import { statements } from './kotlin-statements.js';

function onOneLine(file: File): string {
  return print(file).replace(/\s+/g, ' ').replace(/^\(file ?/, '').replace(/\)$/, '');
}

function statementsOf(file: File): string {
  return onOneLine(file).replace(/^\(fn test \(\) ?/, '').replace(/\)$/, '');
}

function textsOf(source: string, spans: readonly (Span | undefined)[]): string[] {
  return spans.map((span) => (span === undefined ? '' : source.slice(span.start, span.end)));
}

describe.each([['expressions', expressions], ['lambdas', lambdas], ['statements', statements]] as const)('%s', (_, constructs) => {
  it.each(constructs)('$name', (construct) => {
    const source = insideFunction(sourceOf(construct));
    const file = lowerKotlin(source, 'Hive.kt');
    expect(statementsOf(file)).toBe(modelOf(construct));
    expect(file.unreadable).toEqual([]);
    expect(violations(file, source.length)).toEqual([]);
  });
});

describe('declarations', () => {
  it.each(declarations)('$name', (construct) => {
    const source = sourceOf(construct);
    const file = lowerKotlin(source, 'Hive.kt');
    expect(onOneLine(file)).toBe(modelOf(construct));
    expect(file.unreadable).toEqual([]);
    expect(violations(file, source.length)).toEqual([]);
  });
});

describe('places', () => {
  it('a head reaches from the first modifier, behind annotations, to the result type or parameter list', () => {
    const source = 'class A {\n  @B("x")\n  override suspend fun f(a: C?, b: D): E? { }\n  @F fun g() = 1\n  private constructor(h: I) : this()\n  var j = 1\n    private set(k) {}\n}';
    const heads = findAll(lowerKotlin(source, 'a.kt'), 'Fn').filter((fn) => fn.headSpan);
    expect(textsOf(source, heads.map((fn) => fn.headSpan)).sort()).toEqual([
      'fun g()', 'override suspend fun f(a: C?, b: D): E?', 'private constructor(h: I)', 'set(k)',
    ]);
  });

  it('a call has its receiver, its arguments and its lambda, a member the place of its name', () => {
    const source = insideFunction('a.b(c).d(1) { e() }');
    const file = lowerKotlin(source, 'a.kt');
    expect(textsOf(source, findAll(file, 'Call').map((call) => call.span))).toEqual(['a.b(c).d(1) { e() }', 'a.b(c)', 'e()']);
    expect(textsOf(source, findAll(file, 'Member').map((member) => member.nameSpan))).toEqual(['d', 'b']);
  });

  it('parentheses belong to nobody, and a block has its braces unless it is a lambda\'s', () => {
    const source = insideFunction('val a = (b + c)\nif (d) { e() } else f()\ng { h() }');
    const file = lowerKotlin(source, 'a.kt');
    expect(textsOf(source, findAll(file, 'Binary').map((node) => node.span))).toEqual(['b + c']);
    expect(textsOf(source, findAll(file, 'Block').slice(1, 4).map((node) => node.span))).toEqual(['{ e() }', 'f()', ' h() ']);
  });

  it('names in templates stand without their dollar, text pieces between the quotes', () => {
    const source = insideFunction('f("a$b${c}d")');
    const file = lowerKotlin(source, 'a.kt');
    expect(textsOf(source, findAll(file, 'Name').map((node) => node.span))).toEqual(['f', 'b', 'c']);
    expect(textsOf(source, findAll(file, 'Literal').map((node) => node.span))).toEqual(['a', 'd']);
  });

  it('comments have their marks, nested ones are one, and strings hold none', () => {
    const source = '// one\r\nval a = "// no" /* two /* in */ */\nval b = """/* no */${c /* three */}"""\n/** four */';
    expect(textsOf(source, lowerKotlin(source, 'a.kt').comments)).toEqual(['// one', '/* two /* in */ */', '/* three */', '/** four */']);
  });
});

describe('text that is being typed', () => {
  const before = 'class Hive {\n  fun weigh() {\n    scale.read()\n';
  const after = '\n    scale.stop()\n  }\n\n  fun close() {\n    scale.close()\n  }\n}\n';
  const unfinished = [
    'scale.', 'scale.read(', 'scale.read(a, ', 'val x = ', 'if (', 'if (a) {', 'when (a) {', 'scale.read { ', 'log("unfinished', 'foo(bar { ', 'try {',
    '}', ')', 'val', 'a +', 'x ?: ', 'return (', '"${a', 'list[', 'object : A {', 'fun ', '@', 'a as', 'for (x in', '::', 'is', 'else ->', '#', '`',
  ];

  it.each(unfinished)('after %s both functions stay where they are', (typed) => {
    const source = before + `    ${typed}` + after;
    const file = lowerKotlin(source, 'Hive.kt');
    expect(violations(file, source.length)).toEqual([]);
    const [hive] = file.declarations;
    expect(hive?.kind === 'Class' && hive.functions.map((fn) => fn.name)).toEqual(['weigh', 'close']);
    const calls = findAll(file, 'Call').map((call) => source.slice(call.span.start, call.span.end));
    expect(calls).toContain('scale.read()');
    expect(calls).toContain('scale.close()');
  });

  it('what could not be read is named, and no more than its neighbourhood', () => {
    const source = before + '    scale.read(a' + after;
    const file = lowerKotlin(source, 'Hive.kt');
    expect(textsOf(source, file.unreadable)).toEqual(['scale.read(a\n    scale.stop()']);
  });

  it('text without a fault has nothing unreadable', () => {
    const source = before + after;
    expect(lowerKotlin(source, 'Hive.kt').unreadable).toEqual([]);
  });
});

describe('any text', () => {
  const sound = (text: string): void => {
    const file = lowerKotlin(text, 'Hive.kt');
    expect(violations(file, text.length)).toEqual([]);
    print(file);
  };

  it('of any characters gives a sound model', () => {
    fc.assert(fc.property(fc.string({ unit: 'binary', maxLength: 200 }), sound), { numRuns: 500 });
  });

  it('of Kotlin words in any order gives a sound model', () => {
    const words = [
      'fun', 'class', 'object', 'val', 'var', 'if', 'else', 'when', 'for', 'while', 'do', 'try', 'catch', 'finally', 'return', 'return@a', 'throw',
      'break', 'in', '!in', 'is', 'as', 'as?', 'by', 'get', 'set', 'init', 'constructor', 'companion', 'enum', 'override', 'context', 'where', 'this',
      'super', 'null', 'a', 'b', 'C', 'it', 'a@', '@A', '1', '0x', '\'c\'', '"', '"""', '${', '$a', '(', ')', '[', ']', '{', '}', '<', '>', ',', '.', '?.',
      '?:', '!!', '::', '->', '=', '+=', '==', '+', '-', '++', '&&', '..', '*', '?', ':', ';', '\n', '//', '/*', '*/', '`', 'import', 'package', 'typealias',
    ];
    const text = fc.array(fc.tuple(fc.constantFrom(...words), fc.constantFrom('', ' ', ' ', '\n')), { maxLength: 60 });
    fc.assert(fc.property(text, (parts) => sound(parts.flat().join(''))), { numRuns: 2000 });
  });

  it('that is a real source cut off anywhere, or less any of its tokens, gives a sound model', () => {
    const sources = kotlinSources().filter(({ text }) => text.length > 500 && text.length < 8000);
    const place = fc.tuple(fc.nat(sources.length - 1), fc.double({ min: 0, max: 1, noNaN: true }));
    fc.assert(fc.property(place, ([i, share]) => {
      const { text } = sources[i]!;
      sound(text.slice(0, Math.floor(share * text.length)));
      const tokens = lex(text);
      const token = Math.floor(share * (tokens.kinds.length - 1));
      sound(text.slice(0, tokens.starts[token]) + text.slice(tokens.ends[token]));
    }), { numRuns: 400 });
  });

  it.each(NESTINGS)('nested or chained thousands of times is read in bounded time and depth: %s', (_, text) => {
    // Processor time, so that a busy machine fails nothing; it is usually below 100 ms.
    const before = process.cpuUsage();
    const file = lowerKotlin(text, 'Hive.kt');
    const { user } = process.cpuUsage(before);
    expect(user / 1000).toBeLessThan(5000);
    expect(violations(file, text.length)).toEqual([]);
  });
});
