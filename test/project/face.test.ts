import { describe, expect, it } from 'vitest';
import { lowerKotlin } from '../../server/frontend/kotlin/index.js';
import { lowerTypeScript } from '../../server/frontend/typescript/index.js';
import { faceOf, headsThatDiffer } from '../../server/project/face.js';

/** The faces of two texts, the effects of their functions taken to be equal. */
function faces(before: string, after: string, ending = 'kt') {
  const face = (text: string) => faceOf(ending === 'kt' ? lowerKotlin(text, '/A.kt') : lowerTypeScript(text, `/a.${ending}`), 'same effects');
  return { a: face(before), b: face(after) };
}

const CLASS = `class Link(private val gatt: BluetoothGatt) : Closeable {
    val retries = 3
    private val names = listOf("a")
    override fun close() { gatt.close() }
    private fun inner(): Int { return 1 }
    fun next(): Int = inner()
    fun guess() = inner()
}
`;

describe('a face is the same', () => {
  it.each([
    ['when a body changes', 'gatt.close()', 'gatt.disconnect(); gatt.close()'],
    ['when what is private changes', 'private fun inner(): Int { return 1 }', 'private fun other(): Long { return 1 }'],
    ['when lines move', 'class Link', '\n// About the link.\nclass Link'],
    ['when the expression of a declared result changes', 'Int = inner()', 'Int = inner() + 1'],
  ])('%s', (_why, from, to) => {
    const { a, b } = faces(CLASS, CLASS.replace(from, to));
    expect(b.digest).toBe(a.digest);
  });
});

describe('a face is another one, and names what changed', () => {
  it.each([
    ['a parameter', 'fun next()', 'fun next(n: Int)', ['next']],
    ['a result', 'next(): Int', 'next(): String', ['next']],
    ['a constant', 'retries = 3', 'retries = 4', ['retries']],
    ['a name', 'fun next()', 'fun last()', ['last', 'next']],
    ['the value of an undeclared result', 'guess() = inner()', 'guess() = "a"', ['guess']],
    ['a supertype, which concerns all its members', ' : Closeable', '', ['Link', 'close', 'guess', 'next', 'retries']],
  ])('%s', (_what, from, to, names) => {
    const { a, b } = faces(CLASS, CLASS.replace(from, to));
    expect(b.digest).not.toBe(a.digest);
    expect([...headsThatDiffer(a, b)].sort()).toEqual(names);
  });

  it('a TypeScript constant at module level', () => {
    const { a, b } = faces('export const MTU = 23;\n', 'export const MTU = 185;\n', 'ts');
    expect([...headsThatDiffer(a, b)]).toEqual(['MTU']);
  });

  it('what an undeclared TypeScript function returns, but not what it does', () => {
    const text = 'export function size() { prepare(); return 20; }\nexport function go() { prepare(); }\n';
    expect([...headsThatDiffer(...Object.values(faces(text, text.replace('20', '"20"'), 'ts')) as [never, never])]).toEqual(['size']);
    const { a, b } = faces(text, text.replace('go() { prepare', 'go() { begin'), 'ts');
    expect(b.digest).toBe(a.digest);
  });

  it('other effects behind the same heads', () => {
    const file = lowerKotlin(CLASS, '/A.kt');
    expect(faceOf(file, 'closes its link').digest).not.toBe(faceOf(file, 'does nothing').digest);
    expect([...headsThatDiffer(faceOf(file, 'closes its link'), faceOf(file, 'does nothing'))]).toEqual([]);
  });
});

it('without knowledge of effects, any change of the program is one of the face, and a comment is none', () => {
  const face = (text: string) => faceOf(lowerKotlin(text, '/A.kt'), undefined).digest;
  expect(face(CLASS.replace('gatt.close()', 'gatt.disconnect()'))).not.toBe(face(CLASS));
  expect(face(CLASS.replace('gatt.close()', '/* at last */ gatt.close()'))).toBe(face(CLASS));
});

it('the first face differs from none in all its names', () => {
  const { a } = faces(CLASS, CLASS);
  expect([...headsThatDiffer(undefined, a)].sort()).toEqual(['Link', 'close', 'guess', 'next', 'retries']);
  expect(headsThatDiffer(a, undefined).size).toBe(5);
});
