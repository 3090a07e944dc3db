/**
 * Twin sources: the same thing said in Kotlin and in TypeScript lowers to one and
 * the same printed model. So no reader of the model can tell which language it looks at.
 *
 * The twins are held to the syntax only; a few annotate what the language's own
 * checker would not take (the type of a caught error, in TypeScript).
 */
import { readdirSync, readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { lowerKotlin } from '../../server/frontend/kotlin/index.js';
import { lowerTypeScript } from '../../server/frontend/typescript/index.js';
import { violations } from '../../server/ir/invariants.js';
import { print } from '../../server/ir/print.js';

const folder = new URL('twins/', import.meta.url);
const names = readdirSync(folder).filter((file) => file.endsWith('.kt')).map((file) => file.slice(0, -'.kt'.length)).sort();

function text(file: string): string {
  return readFileSync(new URL(file, folder), 'utf8');
}

describe('twin sources', () => {
  it('come in pairs, at least twenty of them', () => {
    expect(names.length).toBeGreaterThanOrEqual(20);
    expect(readdirSync(folder).filter((file) => file.endsWith('.ts')).map((file) => file.slice(0, -'.ts'.length)).sort()).toEqual(names);
  });

  it.each(names)('%s', (name) => {
    const [kotlin, typescript] = [text(`${name}.kt`), text(`${name}.ts`)];
    const kotlinModel = lowerKotlin(kotlin, `${name}.kt`);
    const typescriptModel = lowerTypeScript(typescript, `${name}.ts`);
    expect(kotlinModel.unreadable).toEqual([]);
    expect(typescriptModel.unreadable).toEqual([]);
    expect(violations(kotlinModel, kotlin.length)).toEqual([]);
    expect(violations(typescriptModel, typescript.length)).toEqual([]);
    expect(print(kotlinModel).split('\n').length).toBeGreaterThan(2);
    expect(print(kotlinModel)).toBe(print(typescriptModel));
  });
});
