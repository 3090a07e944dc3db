/**
 * Model pieces written as Kotlin. A made piece, read again, has to be the same
 * model: so says every declaration of the real sources too. How it looks is fixed
 * by a few examples in the style of Kotlin's own coding conventions.
 */
import { describe, expect, it } from 'vitest';
import { lowerKotlin } from '../../server/frontend/kotlin/index.js';
import { NotWritable, writeKotlin } from '../../server/frontend/kotlin/write.js';
import { styleAt, type Style } from '../../server/frontend/style.js';
import {
  argument, awaitExpr, binary, block, call, eq, exprStmt, ifThen, lambda, letStmt, literal, member, name, names, not, notEq, returnStmt,
  throwStmt, tryCatch, assign, index, listExpr, jump,
} from '../../server/ir/build.js';
import { MADE, type Class, type Declaration, type Expr, type Stmt } from '../../server/ir/ir.js';
import { print } from '../../server/ir/print.js';
import { findAll } from '../../server/ir/walk.js';
import { kotlinSources } from '../support/kotlin-corpus.js';
import { asMade } from '../support/kotlin-made.js';
import { insideFunction, sourceOf } from './kotlin-construct.js';
import { declarations } from './kotlin-declarations.js';
import { expressions, lambdas } from './kotlin-expressions.js';
import { statements } from './kotlin-statements.js';

const STYLE: Style = { indent: '', unit: '    ', semicolons: false, quote: '"', eol: '\n' };

function written(node: Stmt | Expr | Declaration, style: Style = STYLE): string {
  return writeKotlin(node, style, '');
}

/** A companion's members are written in one place, wherever among the others they stood. */
function staticsLast(node: Declaration): Declaration {
  if (node.kind !== 'Class') return node;
  const isStatic = (member: Class['fields'][number] | Class['functions'][number]): number =>
    Number(member.kind === 'Field' ? member.static : member.modifiers.has('static'));
  return {
    ...node,
    fields: [...node.fields].sort((a, b) => isStatic(a) - isStatic(b)),
    functions: [...node.functions].sort((a, b) => isStatic(a) - isStatic(b)),
    classes: node.classes.map((inner) => staticsLast(inner) as Class),
  };
}

describe('written and read again, a piece is the same', () => {
  /** Constructs that lose by being written what the model does not keep, or that cannot be written. */
  const LOST = new Set([
    'destructuring by name', 'destructured parameters', 'a collection literal', 'context parameters', 'a companion with a name and supertypes', 'companions',
  ]);

  it.each([...expressions, ...lambdas, ...statements].filter(({ name: title }) => !LOST.has(title)))('$name', (construct) => {
    const [fn] = lowerKotlin(insideFunction(sourceOf(construct)), 'a.kt').declarations;
    const text = written(asMade(fn!));
    const again = lowerKotlin(text, 'a.kt');
    expect(again.unreadable).toEqual([]);
    expect(again.declarations.map(print).join('\n')).toBe(print(fn!));
  });

  it.each(declarations.filter(({ name: title }) => !LOST.has(title)))('$name', (construct) => {
    const before = lowerKotlin(sourceOf(construct), 'a.kt').declarations;
    const again = lowerKotlin(before.map((node) => written(asMade(node))).join('\n'), 'a.kt');
    expect(again.unreadable).toEqual([]);
    expect(again.declarations.map(print).join('\n')).toBe(before.map(print).join('\n'));
  });

  it('every declaration of the real sources', () => {
    let count = 0;
    const differing: string[] = [];
    for (const { path, text } of kotlinSources()) {
      for (const declaration of lowerKotlin(text, path).declarations) {
        const again = lowerKotlin(written(asMade(declaration)), path).declarations;
        const same = again.length === 1 && print(staticsLast(again[0]!)) === print(staticsLast(declaration));
        if (!same) differing.push(`${path}: ${declaration.kind === 'Fn' || declaration.kind === 'Class' ? declaration.name : declaration.kind}`);
        count++;
      }
    }
    console.log(`Declarations of real Kotlin sources written and read again: ${count}, different: ${differing.length}`);
    expect(count).toBeGreaterThan(1500);
    expect(differing).toEqual([]);
  });
});

describe('what a fix writes looks like its neighbours', () => {
  const leave = ifThen(notEq(name('status'), names('BluetoothGatt', 'GATT_SUCCESS')), [exprStmt(call(names('gatt', 'disconnect'))), returnStmt()]);

  it('an early way out', () => {
    expect(written(leave)).toBe('if (status != BluetoothGatt.GATT_SUCCESS) {\n    gatt.disconnect()\n    return\n}');
  });

  it('in the indentation and with the line ends of the text', () => {
    const text = 'class A {\r\n\tfun f() {\r\n\t\tg()\r\n\t}\r\n}\r\n';
    expect(writeKotlin(leave, styleAt(text, text.indexOf('g()')), text)).toBe(
      'if (status != BluetoothGatt.GATT_SUCCESS) {\r\n\t\t\tgatt.disconnect()\r\n\t\t\treturn\r\n\t\t}',
    );
  });

  it('pieces with a place are copied as they stand, in parentheses where they need them', () => {
    const source = insideFunction('gatt?.write( c ,  2 ) // kept\nval x = a  ?:  b');
    const file = lowerKotlin(source, 'a.kt');
    const [write] = findAll(file, 'Call');
    const [elvis] = findAll(file, 'Binary');
    expect(writeKotlin(not(write!), STYLE, source)).toBe('!gatt?.write( c ,  2 )');
    expect(writeKotlin(eq(write!, literal(true)), STYLE, source)).toBe('gatt?.write( c ,  2 ) == true');
    expect(writeKotlin(member(elvis!, 'c'), STYLE, source)).toBe('(a  ?:  b).c');
  });

  it.each<[string, Stmt | Expr]>([
    ['val accepted = gatt.read(c)', letStmt('accepted', call(names('gatt', 'read'), name('c')))],
    ['var n = 1', letStmt('n', literal(1), true)],
    ['throw IllegalStateException("no \\"link\\" for \\$5\\n")', throwStmt(call(name('IllegalStateException'), literal('no "link" for $5\n')))],
    ['try {\n    f()\n} catch (error: Exception) {\n    g(error)\n} finally {\n    h()\n}',
      tryCatch([exprStmt(call(name('f')))], { param: 'error', body: [exprStmt(call(name('g'), name('error')))] }, [exprStmt(call(name('h')))])],
    ['queue.add { it -> it.read() }', call(names('queue', 'add'), argument(lambda(['it'], call(names('it', 'read'))), { trailing: true }))],
    ['run({ a() }, size = 2, *rest)', call(name('run'), lambda([], call(name('a'))), argument(literal(2), { name: 'size' }), argument(name('rest'), { spread: true }))],
    ['handler.post {\n    a()\n    b()\n}', call(names('handler', 'post'), argument(lambda([], [exprStmt(call(name('a'))), exprStmt(call(name('b')))]), { trailing: true }))],
    ['a.b?.c', member(names('a', 'b'), 'c', 'step')],
    ['pending[0] = null', assign(index(name('pending'), literal(0)), literal(null))],
    ['retries += 1', assign(name('retries'), literal(1), '+')],
    ['(a + b) * c', binary(binary(name('a'), '+', name('b')), '*', name('c'))],
    ['a - (b - c)', binary(name('a'), '-', binary(name('b'), '-', name('c')))],
    ['a and 255 shl 8', binary(binary(name('a'), '&', literal(255)), '<<', literal(8))],
    ['!(a || b)', not(binary(name('a'), '||', name('b')))],
    ['(-1).f()', call(member(literal(-1), 'f'))],
    ['listOf(1, 2)', listExpr(literal(1), literal(2))],
    ['`when`.`is a`', names('when', 'is a')],
    ['break@outer', jump('break', 'outer')],
    ['run {\n    a()\n}', block(exprStmt(call(name('a'))))],
    ['if (a) {\n    b()\n} else {\n    c()\n}', ifThen(name('a'), [exprStmt(call(name('b')))], [exprStmt(call(name('c')))])],
  ])('%s', (text, node) => {
    expect(written(node)).toBe(text);
  });

  it('what reaches as far as it can gets parentheses on the left side alone', () => {
    const leaves: Expr = { kind: 'Leave', span: MADE, by: returnStmt(literal(false)) };
    const elvis = binary(name('gatt'), '??', leaves);
    expect(written(elvis)).toBe('gatt ?: return false');
    expect(written(binary(elvis, '??', name('other')))).toBe('(gatt ?: return false) ?: other');
  });

  it('what Kotlin has no words for is refused', () => {
    expect(() => written(awaitExpr(name('a')))).toThrow(NotWritable);
    expect(() => written(binary(name('a'), '**', name('b')))).toThrow(NotWritable);
    expect(() => written({ kind: 'Unknown', span: MADE, children: [] })).toThrow(NotWritable);
  });
});
