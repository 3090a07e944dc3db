/**
 * A function that has nothing to do with the rest is put in, or taken out: nothing is said of any other function that was not
 * said before, and nothing is left unsaid.
 */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { Fn } from '../../server/ir/ir.js';
import { findAll } from '../../server/ir/walk.js';
import { Ground } from '../mutation/ground.js';
import { kotlinSources } from '../support/kotlin-corpus.js';
import { apps, before, check, demo, fingerprints, ruleSources, SEED, sources, type Project } from './projects.js';

/** Statements of both languages that mean nothing to anybody; `N` is a number of their own. */
const KOTLIN = [
  'val sumN = words.sumOf { it.length }',
  'for (word in words) { if (word.isEmpty()) continue }',
  'when (count) { 0 -> return "none"; in 1..9 -> println("few"); else -> Unit }',
  'val textN = try { words.first() } catch (e: NoSuchElementException) { "" }',
  'repeat(count) { println(it) }',
  'val laterN = { number: Int -> number * 2 }',
  'words.filter { it.length > count }.map { it.uppercase() }.forEach { println(it) }',
  'var restN = count; while (restN > 0) { restN -= 1 }',
];
const TYPESCRIPT = [
  'const sumN = words.reduce((sum, word) => sum + word.length, 0); console.log(sumN);',
  'for (const word of words) { if (word === "") continue; }',
  'switch (count) { case 0: return "none"; default: console.log(count); }',
  'try { JSON.parse(words[0] ?? ""); } catch { console.log("no JSON"); }',
  'const laterN = (value: number): number => value * 2; console.log(laterN(count));',
  'words.filter((word) => word.length > count).map((word) => word.toUpperCase()).forEach((word) => console.log(word));',
  'let restN = count; while (restN > 0) restN -= 1;',
];

interface Place {
  readonly path: string;
  /** Behind a function, where another one may stand. */
  readonly offset: number;
  readonly isMember: boolean;
}

/** Behind every named function that ends its line; in TypeScript not inside of object literals, which want commas. */
function placesIn(project: Project): readonly Place[] {
  const { snapshot } = before(project);
  return sources(project).flatMap((path) => {
    const file = snapshot.fileOf(path)!;
    const text = project.files.get(path)!;
    const literals = findAll(file, 'Class').filter(({ form }) => form === 'anonymous' && file.language === 'typescript');
    return findAll(file, 'Class').flatMap((cls) => (literals.includes(cls) ? [] : cls.functions)).concat(file.declarations.filter((one): one is Fn => one.kind === 'Fn'))
      .filter(({ name, body, span }) => name !== undefined && body !== undefined && /^\s*\n/.test(text.slice(span.end)) && !literals.some((literal) => literal.span.start < span.start && span.end < literal.span.end))
      .map((fn) => ({ path, offset: fn.span.end, isMember: !file.declarations.includes(fn) }));
  });
}

function functionText({ path, isMember }: Place, statements: readonly string[], number: number): string {
  const body = statements.map((statement, i) => `    ${statement.replaceAll('N', `${number}x${i}`.replace('x', '_'))}`).join('\n');
  const name = `unrelated${number}`;
  if (path.endsWith('.kt')) return `\n\nfun ${name}(words: List<String>, count: Int): String {\n${body}\n    return words.joinToString()\n}`;
  return `\n\n${isMember ? '' : 'function '}${name}(words: readonly string[], count: number): string {\n${body}\n    return words.join(', ');\n}`;
}

function expectSame(project: Project, files: ReadonlyMap<string, string>, without?: string): void {
  const after = check(files);
  expect(after.problems).toEqual([]);
  expect(fingerprints(after.said)).toEqual(fingerprints(before(project).said.filter(({ within }) => within !== without)));
}

describe('a function that has nothing to do with the rest changes nothing', () => {
  it.each([demo, ...apps])('when it is put into $name', (project) => {
    const places = placesIn(project);
    const statements = fc.array(fc.nat(), { minLength: 1, maxLength: 5 });
    fc.assert(fc.property(fc.constantFrom(...places), statements, fc.nat(999), (place, which, number) => {
      const pool = place.path.endsWith('.kt') ? KOTLIN : TYPESCRIPT;
      const text = project.files.get(place.path)!;
      const made = functionText(place, which.map((one) => pool[one % pool.length]!), number);
      expectSame(project, new Map(project.files).set(place.path, text.slice(0, place.offset) + made + text.slice(place.offset)));
    }), { numRuns: project === demo ? 6 : 12, seed: SEED });
  });

  function expectSameWithout(project: Project, { path, start, end, within }: Removable): void {
    const text = project.files.get(path)!;
    expectSame(project, new Map(project.files).set(path, text.slice(0, start) + text.slice(end)), within);
  }

  it('when it is taken out', () => {
    const all = [demo, ...apps, ...ruleSources()].flatMap((project) => removable(project).map((fn) => ({ project, fn })));
    expect(all.length).toBeGreaterThan(0);
    for (const { project, fn } of all) expectSameWithout(project, fn);
  });

  it('when it is taken out of the general Kotlin that stands beside an app', () => {
    const general = kotlinSources().filter(({ text }) => text.length < 20_000);
    const beside = apps.filter(({ name }) => name !== 'roast-probe' && name !== 'reef-light').map((app, i): Project => {
      const some = general.filter((_, at) => at % 25 === i).map(({ text }, at) => [`general/${at}.kt`, text] as const);
      return { name: app.name, files: new Map([...app.files, ...some]) };
    });
    const all = beside.flatMap((project) => removable(project).map((fn) => ({ project, fn })));
    expect(all.length).toBeGreaterThan(50);
    fc.assert(fc.property(fc.constantFrom(...all), ({ project, fn }) => expectSameWithout(project, fn)), { numRuns: 40, seed: SEED });
  });
});

interface Removable {
  readonly path: string;
  readonly start: number;
  readonly end: number;
  readonly within: string;
}

/** Functions that nothing else mentions by name, that override nothing, touch no field and come to nothing that concerns a link. */
function removable(project: Project): readonly Removable[] {
  const ground = new Ground({ ...project, language: 'kotlin' });
  const { snapshot, resolver } = ground;
  const words = [...project.files.values()].join('\n').match(/\w+/g) ?? [];
  return sources(project).flatMap((path) => {
    const file = snapshot.fileOf(path)!;
    const text = project.files.get(path)!;
    return findAll(file, 'Fn').filter((fn) => isUnrelated(fn)).flatMap(({ name, span }) => {
      if (!/^\s*(\n|$)/.test(text.slice(span.end)) || !/(^|\n)[ \t]*$/.test(text.slice(0, span.start))) return [];
      return [{ path, start: span.start, end: span.end, within: name! }];
    });
  });

  function isUnrelated(fn: Fn): boolean {
    return fn.name !== undefined && fn.name !== 'constructor' && fn.nameSpan !== undefined && fn.body !== undefined && !fn.modifiers.has('override') && !fn.modifiers.has('export')
      && words.filter((word) => word === fn.name).length === 1
      && ground.reached(fn).every((call) => ground.memberOf(call)!.does === undefined)
      && [...findAll(fn, 'Name'), ...findAll(fn, 'Member')].every((name) => resolver.declOf(name)?.is !== 'field');
  }
}
