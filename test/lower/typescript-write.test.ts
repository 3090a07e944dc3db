/**
 * The writer: made pieces become TypeScript that the compiler reads and that lowers
 * to the same model again; pieces with a place are copied; the style is that of the
 * lines around.
 */
import ts from 'typescript';
import { describe, expect, it } from 'vitest';
import { styleAt, write } from '../../server/frontend/index.js';
import type { Style } from '../../server/frontend/style.js';
import { lowerTypeScript } from '../../server/frontend/typescript/index.js';
import { NotWritable, writeTypeScript } from '../../server/frontend/typescript/write.js';
import * as make from '../../server/ir/build.js';
import { MADE, type Declaration, type Expr, type Stmt } from '../../server/ir/ir.js';
import { print } from '../../server/ir/print.js';
import { findAll } from '../../server/ir/walk.js';
import { corpus } from './typescript-corpus.js';
import { declarations } from './typescript-declarations.js';
import { expressions } from './typescript-expressions.js';
import { statements } from './typescript-statements.js';

const plain: Style = { indent: '', unit: '  ', semicolons: true, quote: "'", eol: '\n' };
const bare: Style = { indent: '', unit: '\t', semicolons: false, quote: '"', eol: '\n' };

function written(node: Stmt | Expr | Declaration, style: Partial<Style> = {}, source = ''): string {
  return writeTypeScript(node, { ...plain, ...style }, source);
}

/** The same piece as a fix would have made it: no node has a place. */
function made<T>(piece: T): T {
  const strip = (value: unknown): unknown => {
    if (Array.isArray(value)) return value.map(strip);
    if (value === null || typeof value !== 'object' || value instanceof Set) return value;
    return Object.fromEntries(Object.entries(value).map(([key, part]) => [key, /^(span|nameSpan|headSpan)$/.test(key) ? MADE : strip(part)]));
  };
  return strip(piece) as T;
}

/** Members are gathered by kind, so a class may come back with its members in another order. */
function inNoOrder(model: string): string {
  return model.split('\n').map((line) => line.trim().replace(/\)+$/, '')).sort().join('\n');
}

describe('what is made lowers to itself again', () => {
  const texts = [
    ...[...expressions, ...statements, ...declarations].filter(({ path }) => path === undefined).map(({ name, source }) => ({ path: name, text: source })),
    ...corpus('own').filter(({ path }) => !/-(expressions|statements|declarations)\.ts$/.test(path)),
  ];

  it.each([['with semicolons', plain], ['without', bare]])('%s', (_, style) => {
    let same = 0;
    let refused = 0;
    const wrong: string[] = [];
    for (const { path, text } of texts) {
      const file = lowerTypeScript(text, path);
      if (file.unreadable.length > 0) continue;
      const pieces = [...file.body.stmts, ...file.declarations.filter((node) => node.kind !== 'Class' || node.form === 'class' || node.form === 'interface')];
      for (const piece of pieces) {
        let out: string;
        try {
          out = writeTypeScript(made(piece), style, text);
        } catch (error) {
          if (!(error instanceof NotWritable)) throw error;
          refused++;
          continue;
        }
        const again = lowerTypeScript(out, 'again.ts');
        const model = [...again.declarations, ...again.body.stmts].map(print).join('\n');
        if (again.unreadable.length === 0 && inNoOrder(model) === inNoOrder(print(piece))) same++;
        else wrong.push(`${path}: ${out}`);
      }
    }
    expect(wrong).toEqual([]);
    expect(same).toBeGreaterThan(1_500);
    expect(refused).toBeLessThan(same / 10);
  });
});

describe('parentheses', () => {
  const [a, b, c] = [make.name('a'), make.name('b'), make.name('c')];
  const choose = findAll(made(lowerTypeScript('use(a ? b : c);', 'a.ts')), 'Choose')[0]!;

  it.each<[string, Expr]>([
    ['(a + b) * c', make.binary(make.binary(a, '+', b), '*', c)],
    ['a + b * c', make.binary(a, '+', make.binary(b, '*', c))],
    ['a - (b - c)', make.binary(a, '-', make.binary(b, '-', c))],
    ['(a ?? b) || c', make.binary(make.binary(a, '??', b), '||', c)],
    ['!(a && b)', make.not(make.binary(a, '&&', b))],
    ['(await a).b', make.member(make.awaitExpr(a), 'b')],
    ['await a.b()', make.awaitExpr(make.call(make.member(a, 'b')))],
    ['(a ? b : c).d', make.member(choose, 'd')],
    ['((x) => x)(a)', make.call(make.lambda(['x'], make.name('x')), a)],
    ['f((a, b), c)', make.call(make.name('f'), make.binary(a, ',', b), c)],
    ['(1).a', make.member(make.literal(1), 'a')],
    ['- -a', made(findAll(lowerTypeScript('use(- -a);', 'a.ts'), 'Unary')[0]!)],
    ['new (f())()', make.construct(make.call(make.name('f')))],
    ['(a as B).c', make.member(made(findAll(lowerTypeScript('a as B', 'a.ts'), 'Cast')[0]!), 'c')],
    ['() => ({})', make.lambda([], made(findAll(lowerTypeScript('use({})', 'a.ts'), 'ObjectExpr')[0]!))],
  ])('%s', (text, node) => {
    expect(written(node)).toBe(text);
    const { parseDiagnostics } = ts.createSourceFile('a.ts', `use(${text});`, ts.ScriptTarget.Latest) as ts.SourceFile & { parseDiagnostics: unknown[] };
    expect(parseDiagnostics).toEqual([]);
  });

  it('stand around a copied operand that binds more loosely', () => {
    const source = 'a + b;';
    const [sum] = findAll(lowerTypeScript(source, 'a.ts'), 'Binary');
    expect(written(make.binary(sum!, '*', make.literal(2)), {}, source)).toBe('(a + b) * 2');
  });
});

describe('style', () => {
  const handler = make.tryCatch(
    [make.exprStmt(make.awaitExpr(make.call(make.names('link', 'write'), make.literal('it\'s "on"'))))],
    { param: 'error', body: [make.exprStmt(make.call(make.name('fail'), make.name('error')))] },
  );

  it('follows semicolons, quotes, indentation and line ends', () => {
    expect(written(handler, { indent: '  ' })).toBe(
      'try {\n    await link.write(\'it\\\'s "on"\');\n  } catch (error) {\n    fail(error);\n  }',
    );
    expect(written(handler, { ...bare, eol: '\r\n' })).toBe('try {\r\n\tawait link.write("it\'s \\"on\\"")\r\n} catch (error) {\r\n\tfail(error)\r\n}');
  });

  it('guards a line that would go on from the one above, where there are no semicolons', () => {
    const stmt = make.exprStmt(make.call(make.lambda([], [])));
    expect(written(stmt, bare)).toBe(';(() => {})()');
    expect(written(stmt)).toBe('(() => {})();');
  });

  it('compares with null loosely, with all else strictly', () => {
    expect(written(make.eq(make.name('a'), make.literal(null)))).toBe('a == null');
    expect(written(make.notEq(make.name('a'), make.literal(0)))).toBe('a !== 0');
  });

  it('copies what has a place, and nothing else', () => {
    const source = 'link . write( 1 /* one */ );';
    const [call] = findAll(lowerTypeScript(source, 'a.ts'), 'Call');
    expect(written(make.exprStmt(make.awaitExpr(call!)), {}, source)).toBe('await link . write( 1 /* one */ );');
  });

  it('writes a function as a method where the line is indented', () => {
    const [fn] = made(findAll(lowerTypeScript('async function stop(a: X): Promise<void> { go(); }', 'a.ts'), 'Fn'));
    expect(written(fn!)).toBe('async function stop(a: X): Promise<void> {\n  go();\n}');
    expect(written(fn!, { indent: '  ' })).toBe('async stop(a: X): Promise<void> {\n    go();\n  }');
  });

  it('refuses what TypeScript has no words for', () => {
    expect(() => written({ kind: 'Leave', span: MADE, by: make.returnStmt() })).toThrow(NotWritable);
    expect(() => written({ kind: 'Binary', span: MADE, op: '..', left: make.literal(1), right: make.literal(2) })).toThrow(NotWritable);
  });

  it('is chosen by language', () => {
    const stmt = make.exprStmt(make.call(make.name('go')));
    expect(write(stmt, 'typescript', plain, '')).toBe('go();');
    expect(write(stmt, 'kotlin', plain, '')).toBe('go()');
  });
});

describe('the style of the lines around', () => {
  it('is read from the text', () => {
    const tight = 'class A {\n    m() {\n        const a = "x"\n        use(a)\n    }\n}\n';
    expect(styleAt(tight, tight.indexOf('use'))).toEqual({ indent: '        ', unit: '    ', semicolons: false, quote: '"', eol: '\n' });
    const loose = "function f() {\r\n\tconst a = 'x';\r\n\tuse(a);\r\n}\r\n";
    expect(styleAt(loose, loose.indexOf('use'))).toEqual({ indent: '\t', unit: '\t', semicolons: true, quote: "'", eol: '\r\n' });
  });

  it('has defaults for a text that tells nothing', () => {
    expect(styleAt('', 0)).toEqual({ indent: '', unit: '  ', semicolons: true, quote: "'", eol: '\n' });
  });
});
