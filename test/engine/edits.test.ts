import { describe, expect, it } from 'vitest';
import { applyEdits, editsOf, type EditSources } from '../../server/engine/edits.js';
import type { Edit, Fix } from '../../server/engine/rule.js';
import { lower } from '../../server/frontend/index.js';
import * as make from '../../server/ir/build.js';
import type { AnyNode, Call, Expr, Field, File, Fn, Stmt } from '../../server/ir/ir.js';
import { MADE } from '../../server/ir/ir.js';
import { walk } from '../../server/ir/walk.js';
import { writers } from '../../server/project/writers.js';

class Source {
  readonly file: File;

  constructor(readonly text: string, readonly path: string) {
    this.file = lower(text, path)!;
  }

  /** The node of that kind whose text is `piece`; the outermost, and the first. */
  node<K extends AnyNode['kind']>(kind: K, piece: string): Extract<AnyNode, { kind: K }> {
    let found: AnyNode | undefined;
    walk(this.file, (node) => {
      if (found === undefined && node.kind === kind && this.text.slice(node.span.start, node.span.end).replace(/;$/, '') === piece) found = node;
    });
    if (found === undefined) throw new Error(`no ${kind} ${piece}`);
    return found as Extract<AnyNode, { kind: K }>;
  }

  stmt(piece: string): Stmt {
    return this.node('ExprStmt', piece);
  }

  call(piece: string): Call {
    return this.node('Call', piece);
  }

  fn(name: string): Fn {
    let found: Fn | undefined;
    walk(this.file, (node) => {
      if (node.kind === 'Fn' && node.name === name) found ??= node;
    });
    return found!;
  }

  apply(fix: Pick<Fix, 'edits' | 'asks'>, answers: Record<string, string> = {}): string {
    const sources: EditSources = { writers, textOf: () => this.text, fileOf: () => this.file };
    const outcome = editsOf({ title: 'Fix', trust: 'review', ...fix }, this.path, sources, answers);
    if ('refused' in outcome) return `refused: ${outcome.refused}`;
    const after = applyEdits(this.text, outcome.files[0]?.edits ?? []);
    const before = this.file.unreadable.length;
    expect(lower(after, this.path)!.unreadable.length, after).toBeLessThanOrEqual(before);
    return after;
  }

  edit(...edits: Edit[]): string {
    return this.apply({ edits });
  }
}

const kt = (text: string) => new Source(text, '/app/A.kt');
const ts = (text: string) => new Source(text, '/web/a.ts');

const say = (word: string): Stmt => make.exprStmt(make.call(make.name(word)));
/** A statement of several lines. */
const guard = (): Stmt => make.ifThen(make.name('failed'), [say('retry')]);

describe('statements before and after another', () => {
  it('stand on lines of their own, at its indentation', () => {
    const source = kt('fun f() {\n    a()\n    b()\n}\n');
    expect(source.edit({ do: 'insert', where: 'before', node: source.stmt('b()'), stmts: [say('x'), guard()] })).toBe(
      'fun f() {\n    a()\n    x()\n    if (failed) {\n        retry()\n    }\n    b()\n}\n');
    expect(source.edit({ do: 'insert', where: 'after', node: source.stmt('a()'), stmts: [say('x')] })).toBe('fun f() {\n    a()\n    x()\n    b()\n}\n');
  });

  it('keep a comment with the statement that it is about', () => {
    const source = kt('fun f() {\n    // linkwright accepts r: why\n    // and more\n    a() // really\n}\n');
    expect(source.edit({ do: 'insert', where: 'before', node: source.stmt('a()'), stmts: [say('x')] })).toBe(
      'fun f() {\n    x()\n    // linkwright accepts r: why\n    // and more\n    a() // really\n}\n');
    expect(source.edit({ do: 'insert', where: 'after', node: source.stmt('a()'), stmts: [say('x')] })).toBe(
      'fun f() {\n    // linkwright accepts r: why\n    // and more\n    a() // really\n    x()\n}\n');
  });

  it('go on the same line where the statement shares it, if they fit', () => {
    const source = kt('fun f() { a(); b() }\n');
    expect(source.edit({ do: 'insert', where: 'before', node: source.stmt('b()'), stmts: [say('x')] })).toBe('fun f() { a(); x(); b() }\n');
    expect(source.edit({ do: 'insert', where: 'after', node: source.stmt('b()'), stmts: [say('x')] })).toBe('fun f() { a(); b(); x() }\n');
    const web = ts('function f() { a(); b(); }\n');
    expect(web.edit({ do: 'insert', where: 'before', node: web.stmt('b()'), stmts: [say('x')] })).toBe('function f() { a(); x(); b(); }\n');
    expect(web.edit({ do: 'insert', where: 'after', node: web.stmt('a()'), stmts: [say('x')] })).toBe('function f() { a(); x(); b(); }\n');
  });

  it('open up a block on one line where they do not fit', () => {
    const source = kt('class A {\n    fun f() { a(); b() }\n}\n');
    expect(source.edit({ do: 'insert', where: 'before', node: source.stmt('a()'), stmts: [guard()] })).toBe(
      'class A {\n    fun f() {\n        if (failed) {\n            retry()\n        }\n        a(); b()\n    }\n}\n');
    expect(source.edit({ do: 'insert', where: 'after', node: source.stmt('b()'), stmts: [guard()] })).toBe(
      'class A {\n    fun f() {\n        a(); b()\n        if (failed) {\n            retry()\n        }\n    }\n}\n');
  });

  it('go into the lambda', () => {
    const source = kt('fun f() {\n    post { a(); b() }\n    list.forEach { it ->\n        c(it)\n        d()\n    }\n}\n');
    expect(source.edit({ do: 'insert', where: 'after', node: source.stmt('a()'), stmts: [say('x')] })).toContain('post { a(); x(); b() }');
    expect(source.edit({ do: 'insert', where: 'before', node: source.stmt('c(it)'), stmts: [say('x')] })).toContain('{ it ->\n        x()\n        c(it)\n');
    expect(source.edit({ do: 'insert', where: 'before', node: source.stmt('a()'), stmts: [guard()] })).toContain(
      'post {\n        if (failed) {\n            retry()\n        }\n        a(); b()\n    }\n');
  });

  it('give braces to an arm without them', () => {
    const source = kt('fun f() {\n    if (a) b() else c()\n    for (x in xs)\n        d(x)\n    when (s) {\n        1 -> e()\n        else -> {}\n    }\n}\n');
    expect(source.edit({ do: 'insert', where: 'before', node: source.stmt('b()'), stmts: [say('x')] })).toContain('if (a) {\n        x()\n        b()\n    } else c()\n');
    expect(source.edit({ do: 'insert', where: 'after', node: source.stmt('c()'), stmts: [say('x')] })).toContain('if (a) b() else {\n        c()\n        x()\n    }\n');
    expect(source.edit({ do: 'insert', where: 'after', node: source.stmt('d(x)'), stmts: [say('x')] })).toContain('for (x in xs) {\n        d(x)\n        x()\n    }\n');
    expect(source.edit({ do: 'insert', where: 'before', node: source.stmt('e()'), stmts: [say('x')] })).toContain('1 -> {\n            x()\n            e()\n        }\n');
    const web = ts('function f() {\n  if (a) b();\n  else c();\n}\n');
    expect(web.edit({ do: 'insert', where: 'before', node: web.stmt('b()'), stmts: [say('x')] })).toContain('if (a) {\n    x();\n    b();\n  }\n  else c();\n');
  });

  it('go into a case and a module', () => {
    const source = ts('switch (s) {\n  case 1:\n    a();\n    break;\n}\nb();\n');
    expect(source.edit({ do: 'insert', where: 'before', node: source.stmt('a()'), stmts: [say('x')] })).toContain('case 1:\n    x();\n    a();\n');
    expect(source.edit({ do: 'insert', where: 'after', node: source.stmt('b()'), stmts: [say('x')] })).toMatch(/b\(\);\nx\(\);\n$/);
  });

  it('keep Windows line ends', () => {
    const source = kt('fun f() {\r\n    a()\r\n}\r\n');
    expect(source.edit({ do: 'insert', where: 'after', node: source.stmt('a()'), stmts: [say('x')] })).toBe('fun f() {\r\n    a()\r\n    x()\r\n}\r\n');
    expect(source.edit({ do: 'insert', where: 'before', node: source.stmt('a()'), stmts: [say('x')] })).toBe('fun f() {\r\n    x()\r\n    a()\r\n}\r\n');
  });

  it('never come after a value, or after a statement that leaves', () => {
    const source = kt('fun f(): Int = a()\nfun g(): Int { return if (b) c() else d() }\n');
    const value = source.fn('f').body!.stmts[0]!;
    expect(source.edit({ do: 'insert', where: 'after', node: value, stmts: [say('x')] })).toMatch(/^refused/);
    expect(source.edit({ do: 'insert', where: 'after', node: source.node('Yield', 'c()'), stmts: [say('x')] })).toMatch(/^refused/);
    const leaving = ts('switch (s) {\n  case 1:\n    return;\n  case 2:\n    a();\n}\n');
    expect(leaving.edit({ do: 'insert', where: 'after', node: leaving.node('Return', 'return'), stmts: [say('x')] })).toMatch(/^refused/);
  });
});

describe('a statement of several lines in the place of another', () => {
  it('spreads a block of one line that holds nothing else', () => {
    const source = kt('fun f() {\n    post { a() }\n    each({ x -> b(x) }, 1)\n}\n');
    expect(source.edit({ do: 'replace', node: source.node('Return', 'a()'), by: guard() })).toBe(
      'fun f() {\n    post {\n        if (failed) {\n            retry()\n        }\n    }\n    each({ x -> b(x) }, 1)\n}\n');
    expect(source.edit({ do: 'replace', node: source.node('Return', 'b(x)'), by: guard() })).toBe(
      'fun f() {\n    post { a() }\n    each({ x ->\n        if (failed) {\n            retry()\n        }\n    }, 1)\n}\n');
  });
});

describe('the body of a function', () => {
  const body = (where: 'first' | 'last', fn: Fn, ...stmts: Stmt[]): Edit => ({ do: 'body', where, fn, stmts });

  it('takes statements at its beginning and its end', () => {
    const source = kt('fun f() {\n    a()\n    b()\n}\n');
    expect(source.edit(body('first', source.fn('f'), say('x')))).toBe('fun f() {\n    x()\n    a()\n    b()\n}\n');
    expect(source.edit(body('last', source.fn('f'), say('x')))).toBe('fun f() {\n    a()\n    b()\n    x()\n}\n');
  });

  it('takes them before a last return', () => {
    const source = kt('fun f(): Int {\n    a()\n    return 1\n}\n');
    expect(source.edit(body('last', source.fn('f'), say('x')))).toBe('fun f(): Int {\n    a()\n    x()\n    return 1\n}\n');
  });

  it.each([
    ['fun f() {}\n', 'fun f() {\n    x()\n}\n'],
    ['class A {\n    fun f() { }\n}\n', 'class A {\n    fun f() {\n        x()\n    }\n}\n'],
    ['fun f() {\n}\n', 'fun f() {\n    x()\n}\n'],
    ['fun f() {\n    // nothing yet\n}\n', 'fun f() {\n    x()\n    // nothing yet\n}\n'],
  ])('may be empty: %j', (text, expected) => {
    const source = kt(text);
    expect(source.edit(body('first', source.fn('f'), say('x'))).replace(/^ {2}(?=\S)/gm, '    ')).toBe(expected);
  });

  it('may be a value, which is returned then', () => {
    const source = kt('fun f(): Int = a()\n');
    expect(source.edit(body('first', source.fn('f'), say('x'))).replace(/\n {2}(?=\S)/g, '\n    ')).toBe('fun f(): Int {\n    x()\n    return a()\n}\n');
    const unit = kt('fun f(): Unit = a()\n');
    expect(unit.edit(body('first', unit.fn('f'), say('x')))).toMatch(/^fun f\(\): Unit \{\n\s+x\(\)\n\s+a\(\)\n\}\n$/);
    const web = ts('const f = () => a();\n');
    const lambda = web.node('Lambda', '() => a()').fn;
    expect(web.edit(body('first', lambda, say('x')))).toBe('const f = () => {\n  x();\n  return a();\n};\n');
  });

  it('is refused where a Kotlin value has no type in writing, and where there is none at all', () => {
    const source = kt('fun f() = a()\ninterface I { fun g() }\nclass C(val a: Int) { init { b() } }\n');
    expect(source.edit(body('first', source.fn('f'), say('x')))).toMatch(/^refused: the type/);
    expect(source.edit(body('first', source.fn('g'), say('x')))).toBe('refused: the function has no body');
    expect(source.edit(body('first', source.fn('constructor'), say('x')))).toMatch(/^refused: a primary constructor/);
  });

  it('of a lambda takes them too', () => {
    const source = kt('fun f() {\n    post { a() }\n    launch {\n        b()\n    }\n    empty {}\n}\n');
    const lambda = (piece: string) => source.node('Lambda', piece).fn;
    expect(source.edit(body('first', lambda('{ a() }'), say('x')))).toContain('post { x(); a() }');
    expect(source.edit(body('last', lambda('{\n        b()\n    }'), say('x')))).toContain('launch {\n        b()\n        x()\n    }');
    expect(source.edit(body('last', lambda('{}'), say('x')))).toContain('empty {\n        x()\n    }');
  });
});

describe('a node in another’s place', () => {
  it('is written where the other stood', () => {
    const source = ts('const a = one(two);\n');
    expect(source.edit({ do: 'replace', node: source.node('Name', 'two'), by: make.call(make.name('three')) })).toBe('const a = one(three());\n');
  });

  it('gets parentheses where it would be read apart', () => {
    const source = ts('const a = !b;\nconst c = d.e;\nconst f = g && h;\nawait k;\n');
    const or = make.binary(make.name('x'), '||', make.name('y'));
    const and = make.binary(make.name('x'), '==', make.name('y'));
    const replaced = (piece: string, by: Expr) => source.edit({ do: 'replace', node: source.node('Name', piece), by });
    expect(replaced('b', or)).toContain('!(x || y)');
    expect(replaced('d', or)).toContain('(x || y).e');
    expect(replaced('g', or)).toContain('(x || y) && h');
    expect(replaced('g', and)).toContain('x === y && h');
    expect(replaced('k', or)).toContain('await (x || y)');
    expect(replaced('d', make.call(make.name('x')))).toContain('x().e');
  });

  it('may be a statement for a statement, or several', () => {
    const source = ts('function f() {\n  a();\n  if (b) c();\n}\n');
    expect(source.edit({ do: 'replace', node: source.stmt('a()'), by: make.returnStmt(make.name('x')) })).toContain('{\n  return x;\n  if');
    expect(source.edit({ do: 'replace', node: source.stmt('a()'), by: make.block(say('x'), say('y')) })).toContain('{\n  x();\n  y();\n  if');
    expect(source.edit({ do: 'replace', node: source.stmt('c()'), by: make.block(say('x'), say('y')) })).toContain('if (b) {\n    x();\n    y();\n  }\n');
    expect(source.edit({ do: 'replace', node: source.call('a()'), by: guard() })).toContain('{\n  if (failed) {\n    retry();\n  }\n  if');
    expect(source.edit({ do: 'replace', node: source.stmt('a()'), by: make.assign(make.name('x'), make.name('y')) })).toContain('{\n  x = y;\n');
  });

  it('is refused where a value is needed', () => {
    const source = ts('const a = b(c);\n');
    expect(source.edit({ do: 'replace', node: source.node('Name', 'c'), by: say('x') })).toMatch(/^refused/);
  });

  it('may hold the text of the other, copied as it stands', () => {
    const source = kt('fun f() {\n    gatt.write( c /* now */ )\n}\n');
    const call = source.call('gatt.write( c /* now */ )');
    expect(source.edit({ do: 'replace', node: source.stmt('gatt.write( c /* now */ )'), by: make.ifThen(make.not(call), [say('fail')]) })).toBe(
      'fun f() {\n    if (!gatt.write( c /* now */ )) {\n        fail()\n    }\n}\n');
  });

  it('may be put around', () => {
    const source = ts('function f() {\n  a();\n}\n');
    expect(source.edit({ do: 'wrap', node: source.call('a()'), before: 'await ', after: '' })).toContain('  await a();\n');
    expect(source.edit({ do: 'wrap', node: source.call('a()'), before: '', after: '.catch(report)' })).toContain('  a().catch(report);\n');
  });
});

describe('statements into a try', () => {
  it('moves their lines one step, comments and blank lines among them, and leaves the inside of long texts alone', () => {
    const source = ts('async function f() {\n  const s = await open();\n  // weigh\n  a();\n\n  b(`x\n  y`);\n}\n');
    expect(source.edit({ do: 'try', from: source.stmt('a()'), to: source.stmt('b(`x\n  y`)'), last: [make.exprStmt(make.call(make.names('s', 'close')))] })).toBe(
      'async function f() {\n  const s = await open();\n  try {\n    // weigh\n    a();\n\n    b(`x\n  y`);\n  } finally {\n    s.close();\n  }\n}\n',
    );
  });

  it('has a handler, whose parameter has a type in Kotlin', () => {
    const handler = { param: 'e', body: [make.exprStmt(make.call(make.name('close'))), make.throwStmt(make.name('e'))] };
    const kotlin = kt('fun f() {\n    a()\n    b()\n}\n');
    expect(kotlin.edit({ do: 'try', from: kotlin.stmt('a()'), to: kotlin.stmt('b()'), handler })).toBe(
      'fun f() {\n    try {\n        a()\n        b()\n    } catch (e: Exception) {\n        close()\n        throw e\n    }\n}\n',
    );
    const script = ts('a();\nb();\n');
    expect(script.edit({ do: 'try', from: script.stmt('a()'), to: script.stmt('b()'), handler })).toBe(
      'try {\n  a();\n  b();\n} catch (e) {\n  close();\n  throw e;\n}\n',
    );
  });

  it('leaves out what the `finally` does instead', () => {
    const source = ts('function f() {\n  a();\n  close();\n  return b();\n}\n');
    const close = source.stmt('close()');
    const edit = { do: 'try', from: source.stmt('a()'), to: source.node('Return', 'return b()'), without: [close], last: [make.exprStmt(make.call(make.name('close')))] } as const;
    expect(source.edit(edit)).toBe('function f() {\n  try {\n    a();\n    return b();\n  } finally {\n    close();\n  }\n}\n');
  });

  it('is refused where they share a line with others, or stand in different blocks', () => {
    const shared = ts('function f() { a(); b(); }\n');
    expect(shared.edit({ do: 'try', from: shared.stmt('a()'), to: shared.stmt('b()'), last: [] })).toMatch(/^refused/);
    const apart = ts('if (x) {\n  a();\n}\nb();\n');
    expect(apart.edit({ do: 'try', from: apart.stmt('a()'), to: apart.stmt('b()'), last: [] })).toMatch(/^refused/);
  });
});

describe('what is removed', () => {
  it.each([
    ['goes with its whole line', 'fun f() {\n    a()\n    b()\n}\n', 'fun f() {\n    b()\n}\n'],
    ['and the comment at its end', 'fun f() {\n    a() // once\n    b()\n}\n', 'fun f() {\n    b()\n}\n'],
    ['but leaves what shares the line', 'fun f() { a(); b() }\n', 'fun f() { b() }\n'],
    ['and leaves braces behind for a single statement', 'fun f() {\n    if (c) a()\n}\n', 'fun f() {\n    if (c) {}\n}\n'],
  ])('%s', (_what, text, expected) => {
    const source = kt(text);
    expect(source.edit({ do: 'remove', node: source.stmt('a()') })).toBe(expected);
  });

  it('may be a declaration', () => {
    const source = kt('class A {\n    val a = 1\n\n    fun f() {}\n}\n');
    expect(source.edit({ do: 'remove', node: source.node('Field', 'val a = 1') as Field })).toBe('class A {\n\n    fun f() {}\n}\n');
  });

  it('is no value', () => {
    const source = kt('fun f(): Int = a()\n');
    expect(source.edit({ do: 'remove', node: source.fn('f').body!.stmts[0]! })).toMatch(/^refused/);
  });
});

describe('an argument', () => {
  it.each([
    ['connect(a, b)', 2, undefined, 'connect(a, b, x)'],
    ['connect(a, b)', 1, undefined, 'connect(a, x, b)'],
    ['connect(a, b)', 0, undefined, 'connect(x, a, b)'],
    ['connect()', 0, undefined, 'connect(x)'],
    ['connect(a, transport = t)', 1, 'mode', 'connect(a, mode = x, transport = t)'],
    ['connect<T>(a)', 1, undefined, 'connect<T>(a, x)'],
    ['connect<T>()', 0, undefined, 'connect<T>(x)'],
    ['launch { a() }', 0, undefined, 'launch(x) { a() }'],
    ['launch(a) { b() }', 1, undefined, 'launch(a, x) { b() }'],
    ['launch() { b() }', 0, undefined, 'launch(x) { b() }'],
  ])('goes into %s at %i', (text, index, name, expected) => {
    const source = kt(`fun f() {\n    ${text}\n}\n`);
    expect(source.edit({ do: 'argument', call: source.call(text), index, ...(name !== undefined && { name }), value: make.name('x') })).toBe(`fun f() {\n    ${expected}\n}\n`);
  });

  it('has no name in TypeScript, and no gap before it', () => {
    const source = ts('f(a);\n');
    expect(source.edit({ do: 'argument', call: source.call('f(a)'), index: 1, name: 'n', value: make.name('x') })).toMatch(/^refused/);
    expect(source.edit({ do: 'argument', call: source.call('f(a)'), index: 3, value: make.name('x') })).toMatch(/^refused/);
  });
});

describe('a member', () => {
  const close: Fn = {
    kind: 'Fn', span: MADE, name: 'close', nameSpan: MADE, typeParams: [], params: [], modifiers: new Set(), annotations: [], body: make.block(say('x')),
  };

  it('follows another, after an empty line', () => {
    const source = kt('class A {\n    fun f() {\n    }\n\n    val a = 1\n}\n');
    expect(source.edit({ do: 'member', after: source.fn('f'), declaration: close })).toBe(
      'class A {\n    fun f() {\n    }\n\n    fun close() {\n        x()\n    }\n\n    val a = 1\n}\n');
  });

  it('stands at the end of its class', () => {
    const source = kt('class A {\n    val a = 1\n}\n');
    expect(source.edit({ do: 'member', after: source.file.declarations[0]!.span, declaration: close })).toBe(
      'class A {\n    val a = 1\n\n    fun close() {\n        x()\n    }\n}\n');
    const web = ts('class A {}\n');
    expect(web.edit({ do: 'member', after: web.file.declarations[0]!.span, declaration: close })).toBe('class A {\n  close() {\n    x();\n  }\n}\n');
  });

  it('gives a Kotlin class a body that has none', () => {
    const source = kt('class A(val a: Int)\n');
    expect(source.edit({ do: 'member', after: source.file.declarations[0]!.span, declaration: close })).toMatch(/^class A\(val a: Int\) \{\n\s+fun close\(\) \{\n\s+x\(\)\n\s+\}\n\}\n$/);
  });
});

describe('an import', () => {
  const add = (source: Source, from: string, name: string): string => source.edit({ do: 'import', from, name });

  it.each([
    ['in order', 'package a\n\nimport b.A\nimport b.C\n\nclass X\n', 'package a\n\nimport b.A\nimport b.B\nimport b.C\n\nclass X\n'],
    ['at the end', 'package a\n\nimport a.A\n\nclass X\n', 'package a\n\nimport a.A\nimport b.B\n\nclass X\n'],
    ['at the end of what is in no order', 'import z.Z\nimport a.A\n\nclass X\n', 'import z.Z\nimport a.A\nimport b.B\n\nclass X\n'],
    ['below the package', '// package of the app\npackage a\n\nclass X\n', '// package of the app\npackage a\n\nimport b.B\n\nclass X\n'],
    ['first', 'class X\n', 'import b.B\n\nclass X\n'],
    ['not twice', 'import b.B\n\nclass X\n', 'import b.B\n\nclass X\n'],
    ['not beside a star', 'import b.*\n\nclass X\n', 'import b.*\n\nclass X\n'],
    ['not of its own package', 'package b\n\nclass X\n', 'package b\n\nclass X\n'],
    ['beside another name for it', 'import b.B as Other\n', 'import b.B as Other\nimport b.B\n'],
  ])('of Kotlin stands %s', (_where, text, expected) => {
    expect(add(kt(text), 'b', 'B')).toBe(expected);
  });

  it.each([
    ['among the names of its module, in order', "import { a, c } from './m';\n", "import { a, b, c } from './m';\n"],
    ['last among them', "import { c, a } from './m';\n", "import { c, a, b } from './m';\n"],
    ['on a line of its own where the others are', "import {\n  a,\n  c,\n} from './m';\n", "import {\n  a,\n  b,\n  c,\n} from './m';\n"],
    ['in a statement of its own', "import { a } from './k';\nimport z from './z';\n", "import { a } from './k';\nimport { b } from './m';\nimport z from './z';\n"],
    ['behind the last', "import { a } from './x';\nimport { k } from './k';\n\nf();\n", "import { a } from './x';\nimport { k } from './k';\nimport { b } from './m';\n\nf();\n"],
    ['beside a type import', "import type { a } from './m';\n", "import type { a } from './m';\nimport { b } from './m';\n"],
    ['below a directive', "'use strict';\nf();\n", "'use strict';\n\nimport { b } from './m';\nf();\n"],
    ['first', 'f("a", "b");\n', 'import { b } from "./m";\n\nf("a", "b");\n'],
    ['without a semicolon where none are used', "import a from './k'\n", "import a from './k'\nimport { b } from './m'\n"],
    ['not twice', "import { b } from './m';\n", "import { b } from './m';\n"],
  ])('of TypeScript stands %s', (_where, text, expected) => {
    expect(add(ts(text), './m', 'b')).toBe(expected);
  });
});

describe('questions', () => {
  it('fill their placeholders with the answer, or with the initial one', () => {
    const source = ts('a();\n');
    const edits: Edit[] = [
      { do: 'insert', where: 'after', node: source.stmt('a()'), stmts: [make.exprStmt(make.call(make.name('<handler>'), make.name('b')))] },
      { do: 'wrap', node: source.call('a()'), before: '', after: '.catch(<handler>)' },
    ];
    const asks = [{ placeholder: 'handler', question: 'Which function?', initial: 'report' }];
    expect(source.apply({ edits, asks })).toBe('a().catch(report);\nreport(b);\n');
    expect(source.apply({ edits, asks }, { handler: ' tell ' })).toBe('a().catch(tell);\ntell(b);\n');
    expect(source.apply({ edits, asks: [{ ...asks[0]!, placeholder: '<handler>' }] }, { '<handler>': 'tell' })).toBe('a().catch(tell);\ntell(b);\n');
  });
});

describe('edits of one fix', () => {
  it('may stand side by side, and keep their order at one place', () => {
    const source = kt('fun f() {\n    a()\n    b()\n}\n');
    const insert = (word: string): Edit => ({ do: 'insert', where: 'after', node: source.stmt('a()'), stmts: [say(word)] });
    expect(source.edit(insert('x'), insert('y'), { do: 'remove', node: source.stmt('b()') })).toBe('fun f() {\n    a()\n    x()\n    y()\n}\n');
  });

  it('may not overlap', () => {
    const source = ts('a(b);\n');
    expect(source.edit({ do: 'replace', node: source.call('a(b)'), by: make.name('x') }, { do: 'replace', node: source.node('Name', 'b'), by: make.name('y') }))
      .toBe('refused: two edits of the fix overlap');
  });

  it('may not touch what could not be read', () => {
    const source = kt('fun f() {\n    a()\n    b( = \n}\n');
    expect(source.file.unreadable.length).toBeGreaterThan(0);
    const [range] = source.file.unreadable;
    expect(source.edit({ do: 'text', at: range!, text: '' })).toBe('refused: an edit reaches into text that could not be read');
    expect(source.edit({ do: 'insert', where: 'before', node: source.stmt('a()'), stmts: [say('x')] })).toContain('    x()\n    a()\n');
  });

  it('may not lie outside of the text, or hang on a node that is not in it', () => {
    const source = kt('fun f() { a() }\n');
    expect(source.edit({ do: 'text', at: { start: 5, end: 99 }, text: '' })).toBe('refused: an edit lies outside of the text');
    expect(source.edit({ do: 'remove', node: say('a') })).toBe('refused: the node is not in the file');
  });

  it('may go to several files, each in its own order', () => {
    const profile = 'device:\n  name: A\n';
    const source = kt('fun f() {\n    a()\n}\n');
    const sources: EditSources = {
      writers,
      textOf: (path) => (path === '/app/A.kt' ? source.text : path === '/app/x.device.yaml' ? profile : undefined),
      fileOf: (path) => (path === '/app/A.kt' ? source.file : undefined),
    };
    const outcome = editsOf({
      title: 'Fix', trust: 'review', edits: [
        { do: 'text', path: '/app/x.device.yaml', at: { start: 16, end: 17 }, text: 'B' },
        { do: 'remove', node: source.stmt('a()') },
      ],
    }, '/app/A.kt', sources);
    expect(outcome).toEqual({
      files: [
        { path: '/app/x.device.yaml', edits: [{ at: { start: 16, end: 17 }, text: 'B' }] },
        { path: '/app/A.kt', edits: [{ at: { start: 10, end: 18 }, text: '' }] },
      ],
    });
  });
});
