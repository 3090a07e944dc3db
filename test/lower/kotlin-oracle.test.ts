/**
 * The Kotlin front end against the Kotlin compiler, on real sources.
 *
 * The compiler (npm `kotlin-compiler`) parses every file too; calls, lambdas,
 * functions, classes and enum entries have to begin and end at the same places.
 * Then the same files are damaged the way typing damages them, which no compiler
 * can judge: the functions of the whole file are what has to be found again.
 */
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { beforeAll, describe, expect, it } from 'vitest';
import { lowerKotlin } from '../../server/frontend/kotlin/index.js';
import type { File } from '../../server/ir/ir.js';
import { violations } from '../../server/ir/invariants.js';
import { compilerTrees, missingForCompiler } from '../support/kotlin-compiler.js';
import { constructsOf, SORTS } from '../support/kotlin-constructs.js';
import { kotlinSources, type KotlinSource } from '../support/kotlin-corpus.js';
import { countKept, damage, DAMAGES, memberFunctions } from '../support/kotlin-damage.js';
import { insideFunction, sourceOf } from './kotlin-construct.js';
import { declarations } from './kotlin-declarations.js';
import { expressions, lambdas } from './kotlin-expressions.js';
import { statements } from './kotlin-statements.js';

let sources: KotlinSource[];
let files: File[];

beforeAll(() => {
  sources = kotlinSources();
  files = sources.map(({ text, path }) => lowerKotlin(text, path));
});

describe('real Kotlin sources', () => {
  it('are at least a thousand files', () => {
    const lines = sources.reduce((sum, { text }) => sum + text.split('\n').length, 0);
    console.log(`Kotlin sources: ${sources.length} files, ${lines} lines`);
    expect(sources.length).toBeGreaterThanOrEqual(1000);
  });

  it('are read as the compiler reads them', (context) => {
    const missing = missingForCompiler();
    if (missing !== undefined) {
      console.log(`Not compared with the Kotlin compiler: ${missing} is missing.`);
      context.skip(`needs ${missing}`);
    }
    const trees = compilerTrees(sources.map(({ path }) => path));
    expect(trees.size).toBe(sources.length);
    const readable = sources.filter(({ path }) => trees.get(path)!.errors === 0);
    for (const sort of SORTS) {
      let theirs = 0, ours = 0, same = 0;
      const differing: string[] = [];
      for (const source of readable) {
        const want = trees.get(source.path)!.constructs[sort];
        const have = constructsOf(files[sources.indexOf(source)]!, source.text)[sort];
        const common = [...want].filter((mark) => have.has(mark)).length;
        theirs += want.size;
        ours += have.size;
        same += common;
        if (common < want.size || common < have.size) differing.push(source.path);
      }
      const share = same / Math.max(theirs, ours);
      console.log(`${sort}: compiler ${theirs}, ours ${ours}, same ${same} (${(100 * share).toFixed(3)} %)`);
      expect(share, `${sort}s differ in ${differing.slice(0, 5).join(', ')}`).toBeGreaterThanOrEqual(0.999);
    }
    const unreadable = readable.filter((source) => files[sources.indexOf(source)]!.unreadable.length > 0);
    expect(unreadable.map(({ path }) => path)).toEqual([]);
  });

  it('the constructs of the lowering tests are Kotlin to the compiler, and the same to both', (context) => {
    const missing = missingForCompiler();
    if (missing !== undefined) context.skip(`needs ${missing}`);
    const texts = [
      ...declarations.map(sourceOf),
      ...[...expressions, ...lambdas, ...statements].map((construct) => insideFunction(sourceOf(construct))),
    ];
    const folder = mkdtempSync(join(tmpdir(), 'linkwright-'));
    const paths = texts.map((_, i) => join(folder, `${i}.kt`));
    texts.forEach((text, i) => writeFileSync(paths[i]!, text));
    const trees = compilerTrees(paths);
    rmSync(folder, { recursive: true });
    texts.forEach((text, i) => {
      const { errors, constructs } = trees.get(paths[i]!)!;
      expect(errors, text).toBe(0);
      expect(constructsOf(lowerKotlin(text, 'Hive.kt'), text), text).toEqual(constructs);
    });
  });

  it('give sound models', () => {
    const unsound = sources.flatMap(({ path, text }, i) => violations(files[i]!, text.length).map((what) => `${path}: ${what}`));
    expect(unsound).toEqual([]);
  });

  it('mean the same with the line ends of another system', () => {
    const differing = sources.filter(({ text, path }, i) => {
      const there = lowerKotlin(text.replaceAll('\n', '\r\n'), path);
      const names = (file: File): string => memberFunctions(file).map((fn) => fn.path).join();
      return there.unreadable.length > 0 || names(there) !== names(files[i]!) || there.comments.length !== files[i]!.comments.length;
    });
    expect(differing.map(({ path }) => path)).toEqual([]);
  });
});

describe('damaged Kotlin sources keep their functions', () => {
  it.each(Object.keys(DAMAGES))('with %s', (name) => {
    let expected = 0, kept = 0, texts = 0;
    const worst: string[] = [];
    sources.forEach(({ text, path }, i) => {
      const damaged = damage(files[i]!, text, DAMAGES[name]!, i);
      if (!damaged) return;
      const found = memberFunctions(lowerKotlin(damaged.text, path)).map((fn) => fn.path);
      const count = countKept(damaged.functions, found);
      texts++;
      expected += damaged.functions.length;
      kept += count;
      if (count < damaged.functions.length) worst.push(`${path} (seed ${i}: ${damaged.functions.length - count} lost)`);
    });
    console.log(`${name}: ${texts} texts, functions kept ${kept} of ${expected} (${(100 * kept / expected).toFixed(2)} %)`);
    expect(texts).toBeGreaterThan(300);
    expect(kept / expected, worst.slice(0, 5).join(', ')).toBeGreaterThanOrEqual(0.98);
  });
});
