/**
 * Edits at every place of real sources: whatever a fix changes anywhere, the text it leaves is still read whole, holds the
 * new piece once and at its place, and everything else as before.
 */
import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { describe, expect, it } from 'vitest';
import { applyEdits, editsOf, type EditSources } from '../../server/engine/edits.js';
import type { Edit } from '../../server/engine/rule.js';
import { languageOf, lower } from '../../server/frontend/index.js';
import * as make from '../../server/ir/build.js';
import type { AnyNode, Call, File, Fn, Stmt } from '../../server/ir/ir.js';
import { print } from '../../server/ir/print.js';
import { findAll } from '../../server/ir/walk.js';
import { writers } from '../../server/project/writers.js';
import { kotlinSources } from '../support/kotlin-corpus.js';

interface Source {
  readonly path: string;
  readonly text: string;
  readonly file: File;
  /** The lines around what was edited, for the message of a failure. */
  readonly excerpt?: string;
}

function source(path: string, text: string): Source {
  return { path, text, file: lower(text, path)! };
}

const DEMO = fileURLToPath(new URL('../workspaces/hive-scale/', import.meta.url));
const demo = readdirSync(DEMO, { recursive: true, encoding: 'utf8' }).filter((path) => languageOf(path) !== undefined && !path.endsWith('.kts'))
  .map((path) => source(join(DEMO, path), readFileSync(join(DEMO, path), 'utf8')));
/** Every tenth of the sources that general-purpose packages ship, those that the front end reads whole. */
const corpus = kotlinSources().filter((_, i) => i % 10 === 0).map(({ path, text }) => source(path, text));
const sources = [...demo, ...corpus].filter(({ file }) => file.unreadable.length === 0);

const mark: Stmt = make.exprStmt(make.call(make.name('markedByTest')));
/** A statement that needs several lines. */
const wide: Stmt = make.ifThen(make.name('wideOfTest'), [mark]);

/** The edited file, or why it was refused. */
function edited({ path, text, file }: Source, edit: Edit): Source | string {
  const disk: EditSources = { writers, textOf: () => text, fileOf: () => file };
  const outcome = editsOf({ title: '', trust: 'review', edits: [edit] }, path, disk);
  if ('refused' in outcome) return outcome.refused;
  const edits = outcome.files[0]?.edits ?? [];
  const after = applyEdits(text, edits);
  const excerpt = `${path}\n…${after.slice(Math.max(0, (edits[0]?.at.start ?? 0) - 160), (edits.at(-1)?.at.end ?? 0) + 320)}…`;
  const result = { ...source(path, after), excerpt };
  expect(result.file.unreadable, excerpt).toEqual([]);
  return result;
}

// ---- What is compared ---------------------------------------------------

/**
 * The program as one line. A value that had to become a block's is returned in so many words, and what is put at the end of
 * a Kotlin lambda is its value: neither is a difference here.
 */
function program(node: AnyNode): string {
  return print(node).replace(/\s+/g, '').replaceAll('(returnimplicit', '(return')
    .replace('(return(callmarkedByTest))', '(do(callmarkedByTest))')
    .replace('(return(choose(if(whenwideOfTest(yield(callmarkedByTest))))))', '(if(whenwideOfTest(do(callmarkedByTest))))');
}

const printedMark = program(mark);
const printedWide = program(wide);

function times(text: string, piece: string): number {
  return text.split(piece).length - 1;
}

/** The edited program has the made piece once, directly before or behind the node, and is otherwise the same. */
function expectBeside(before: Source, after: Source, node: Stmt, piece: string, where: 'before' | 'after'): void {
  const text = program(after.file);
  expect(times(text, piece), after.excerpt).toBe(1);
  expect(text.replace(piece, ''), after.excerpt).toBe(program(before.file));
  const neighbour = program(node);
  expect(text, after.excerpt).toContain(where === 'before' ? piece + neighbour : neighbour + piece);
}

/** Every seventh, others in each file. */
function some<T>(all: readonly T[], seed: number): T[] {
  return all.filter((_, i) => (i + seed) % 7 === 0);
}

function statementsOf(file: File): Stmt[] {
  return findAll(file, 'Block').flatMap((block) => block.stmts).filter(({ span }) => span.end > span.start);
}

function isImplicitValue(node: Stmt): boolean {
  return node.kind === 'Return' && node.implicit === true;
}

/** Does one edit at many places of every source and says how often it was done, and how often refused for which reason. */
function everywhere<T>(placesIn: (file: File) => readonly T[], editAt: (place: T, wideOne: boolean) => Edit, expectAfter: (before: Source, after: Source, place: T, wideOne: boolean) => void) {
  let done = 0;
  const refused: Record<string, number> = {};
  for (const [seed, before] of sources.entries()) {
    for (const [i, place] of some(placesIn(before.file), seed).entries()) {
      const after = edited(before, editAt(place, i % 2 === 1));
      if (typeof after === 'string') refused[after] = (refused[after] ?? 0) + 1;
      else {
        expectAfter(before, after, place, i % 2 === 1);
        done++;
      }
    }
  }
  return { done, refused };
}

describe('real sources', () => {
  it('are there', () => {
    expect(demo.length).toBeGreaterThan(20);
    expect(corpus.length).toBeGreaterThan(100);
    expect(sources.length).toBeGreaterThan(0.98 * (demo.length + corpus.length));
  });

  it.each(['before', 'after'] as const)('take a statement %s any other', (where) => {
    // What comes after the value of a lambda becomes its value, so that the model is another one.
    const places = (file: File): Stmt[] => statementsOf(file).filter((node) => where === 'before' || !isImplicitValue(node));
    const { done, refused } = everywhere(places,
      (node, wideOne) => ({ do: 'insert', where, node, stmts: [wideOne ? wide : mark] }),
      (before, after, node, wideOne) => expectBeside(before, after, node, wideOne ? printedWide : printedMark, where));
    expect(done).toBeGreaterThan(300);
    // An `init` block stands in no body: those of a class are gathered from all over it.
    const reasons = ['the function has no body of its own', ...where === 'before'
      ? ['an operand of a conditional holds no statements', 'the type of the function’s value is not written down']
      : ['nothing comes after the value of an arm', 'nothing runs after a statement that leaves']];
    expect(Object.keys(refused).filter((reason) => !reasons.includes(reason))).toEqual([]);
  });

  it.each(['first', 'last'] as const)('take a statement %s in any body', (where) => {
    const { done } = everywhere(
      (file): Fn[] => findAll(file, 'Fn').filter(({ body }) => body !== undefined && !(where === 'last' && body.stmts.some(isImplicitValue))),
      (fn, wideOne) => ({ do: 'body', where, fn, stmts: [wideOne ? wide : mark] }),
      (before, after, _fn, wideOne) => {
        const text = program(after.file);
        const piece = wideOne ? printedWide : printedMark;
        expect(times(text, piece), after.excerpt).toBe(1);
        expect(text.replace(piece, ''), after.excerpt).toBe(program(before.file));
      });
    expect(done).toBeGreaterThan(100);
  });

  it('lose any statement, and nothing else', () => {
    // Without its last statement a lambda or an arm has another value, and a case goes on into the next one; without its
    // last `it` a lambda has no parameter.
    const places = (file: File): Stmt[] => {
      const last = new Set(findAll(file, 'Block').map(({ stmts }) => stmts.at(-1)));
      return statementsOf(file).filter((node) => !last.has(node) && !findAll(node, 'Name').some(({ name }) => name === 'it'));
    };
    const { done } = everywhere(places, (node) => ({ do: 'remove', node }), (before, after, node) => {
      expect(program(after.file).length, after.excerpt).toBe(program(before.file).length - program(node).length);
    });
    expect(done).toBeGreaterThan(150);
  });

  it('take one more argument in any call', () => {
    const { done } = everywhere(
      (file): Call[] => findAll(file, 'Call').filter((call) => call.infix !== true && call.markup !== true),
      (call) => ({ do: 'argument', call, index: call.args.filter((arg) => arg.trailing !== true).length, value: make.name('markedByTest') }),
      (before, after) => {
        const text = program(after.file);
        expect(times(text, 'markedByTest'), after.excerpt).toBe(1);
        expect(text.replace('markedByTest', ''), after.excerpt).toBe(program(before.file));
      });
    expect(done).toBeGreaterThan(400);
  });

  it('take one more import, and only one', () => {
    for (const before of sources) {
      const from = before.file.language === 'kotlin' ? 'example.marked' : './marked';
      const add: Edit = { do: 'import', from, name: 'byTest' };
      const after = edited(before, add) as Source;
      expect(after.file.imports.filter((one) => one.from === from).map((one) => one.name), after.excerpt).toEqual(['byTest']);
      expect(after.file.imports.length).toBe(before.file.imports.length + 1);
      expect((edited(after, add) as Source).text).toBe(after.text);
    }
  });
});
