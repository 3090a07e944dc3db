/**
 * The Kotlin compiler as an oracle: its own syntax tree of real files.
 *
 * The compiler comes from the npm package `kotlin-compiler`; a small Java program
 * beside this file prints its tree. That program is compiled once and kept in a
 * cache folder. Both need a JDK.
 */
import { spawnSync } from 'node:child_process';
import { createHash } from 'node:crypto';
import { existsSync, mkdirSync, readFileSync, renameSync, rmSync } from 'node:fs';
import { delimiter, join } from 'node:path';
import { noConstructs, type Constructs, type Sort } from './kotlin-constructs.js';

const NODE_MODULES = new URL('../../node_modules/', import.meta.url).pathname;
const PROGRAM = new URL('./kotlin-compiler-tree.java', import.meta.url).pathname;
const JARS = ['kotlin-compiler.jar', 'kotlin-stdlib.jar', 'kotlin-reflect.jar', 'kotlinx-coroutines-core-jvm.jar', 'annotations-13.0.jar'];
const CLASS_PATH = JARS.map((jar) => join(NODE_MODULES, 'kotlin-compiler/lib', jar)).join(delimiter);

/** What the oracle needs and this machine lacks; undefined if nothing. */
export function missingForCompiler(): string | undefined {
  for (const tool of ['javac', 'java']) {
    if (spawnSync(tool, ['-version']).error) return `a JDK (no ${tool} on the path)`;
  }
  return JARS.every((jar) => CLASS_PATH.includes(jar) && existsSync(join(NODE_MODULES, 'kotlin-compiler/lib', jar)))
    ? undefined
    : 'the npm package kotlin-compiler';
}

export interface CompilerTree {
  readonly errors: number;
  readonly constructs: Constructs;
}

/** The compiler's tree of each file, by path. */
export function compilerTrees(paths: readonly string[]): Map<string, CompilerTree> {
  const run = spawnSync('java', ['-cp', CLASS_PATH + delimiter + compiledProgram(), 'CompilerTree'], {
    input: paths.join('\n'), encoding: 'utf8', maxBuffer: 1 << 28,
  });
  if (run.status !== 0) throw new Error(`The compiler's tree could not be printed: ${run.stderr}`);
  return read(run.stdout);
}

/** The folder with the compiled program, named by its source, so that a change compiles it anew. */
function compiledProgram(): string {
  const version = createHash('sha256').update(readFileSync(PROGRAM)).digest('hex').slice(0, 16);
  const folder = join(NODE_MODULES, '.cache/linkwright', `kotlin-compiler-tree-${version}`);
  if (existsSync(folder)) return folder;
  const unfinished = `${folder}.${process.pid}`;
  mkdirSync(unfinished, { recursive: true });
  const run = spawnSync('javac', ['-nowarn', '-proc:none', '-cp', CLASS_PATH, '-d', unfinished, PROGRAM], { encoding: 'utf8' });
  if (run.status !== 0) throw new Error(`The compiler's tree printer does not compile: ${run.stderr}`);
  if (existsSync(folder)) rmSync(unfinished, { recursive: true });
  else renameSync(unfinished, folder);
  return folder;
}

function read(printed: string): Map<string, CompilerTree> {
  const trees = new Map<string, CompilerTree>();
  let constructs = noConstructs();
  for (const line of printed.split('\n')) {
    const head = /^# (\d+) (.*)$/.exec(line);
    if (head) {
      constructs = noConstructs();
      trees.set(head[2]!, { errors: Number(head[1]), constructs });
    } else if (line !== '') {
      const [sort, mark, end] = line.split(' ');
      constructs[sort as Sort].add(`${mark} ${end}`);
    }
  }
  return trees;
}
