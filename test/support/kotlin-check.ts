/**
 * The Kotlin compiler over sources of tests, all in one run, against stubs of Android's classes. The stubs are made once,
 * from a published type file by the recipe beside the project, and kept in a cache folder.
 */
import { spawnSync } from 'node:child_process';
import { createHash } from 'node:crypto';
import { existsSync, mkdirSync, mkdtempSync, readFileSync, readdirSync, renameSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { delimiter, join } from 'node:path';

const PROJECT = new URL('../../', import.meta.url).pathname;
const RECIPE = join(PROJECT, '../shared/recipes/kotlin/android-stubs.mjs');
const TYPES = join(PROJECT, 'node_modules/@nativescript/types-android/lib/android/android-platform-37.d.ts');
const LIB = join(PROJECT, 'node_modules/kotlin-compiler/lib');
const JARS = ['kotlin-compiler', 'kotlin-stdlib', 'kotlin-reflect', 'kotlinx-coroutines-core-jvm', 'annotations-13.0'].map((name) => join(LIB, `${name}.jar`));

/** Classes that sources use; whatever these name comes along without members. */
const ANDROID = [
  'android.bluetooth.*', 'android.os.Handler', 'android.os.HandlerThread', 'android.os.Message', 'android.os.Looper', 'android.os.Build', 'android.os.Parcelable',
  'android.os.ParcelUuid', 'android.os.Bundle', 'android.os.IBinder', 'android.os.Binder', 'android.content.Context', 'android.content.ContextWrapper',
  'android.content.Intent', 'android.app.Service', 'android.app.Activity', 'android.util.Log', 'android.view.ContextThemeWrapper',
];

export interface KotlinSource {
  readonly name: string;
  readonly text: string;
}

/** What the check needs and this machine lacks; undefined if nothing. */
export function missingForCheck(): string | undefined {
  if (!existsSync(RECIPE)) return 'the recipe for stubs of Android';
  for (const tool of ['javac', 'java']) if (spawnSync(tool, ['-version']).error) return `a JDK (no ${tool} on the path)`;
  return [...JARS, TYPES].every((path) => existsSync(path)) ? undefined : 'the npm packages kotlin-compiler and @nativescript/types-android';
}

/** The first error of each source that has one, by its name. Every source is in a package of its own, so that none sees another. */
export function kotlinErrors(sources: readonly KotlinSource[]): ReadonlyMap<string, string> {
  const folder = mkdtempSync(join(tmpdir(), 'linkwright-kotlin-'));
  try {
    const paths = sources.map(({ text }, i) => {
      const path = join(folder, `s${i}.kt`);
      // Behind the first line's own words, so that line numbers stay.
      writeFileSync(path, /^package /m.test(text) ? text.replace(/^package .*$/m, `package s${i}`) : `package s${i};${text}`);
      return path;
    });
    writeFileSync(join(folder, 'list'), paths.map((path) => `"${path}"`).join('\n'));
    const { stderr, status } = spawnSync('java', [
      '-Xmx3g', '-Xss16m', '-cp', JARS.join(delimiter), 'org.jetbrains.kotlin.cli.jvm.K2JVMCompiler', '-nowarn', '-no-stdlib', '-no-reflect',
      '-cp', [stubs(), ...JARS.slice(1)].join(delimiter), '-d', join(folder, 'out'), `@${join(folder, 'list')}`,
    ], { encoding: 'utf8', maxBuffer: 1 << 28 });
    const errors = new Map<string, string>();
    for (const [, number, line, message] of stderr.matchAll(/\/s(\d+)\.kt:(\d+):\d+: error: (.*)/g)) {
      const { name } = sources[Number(number)]!;
      if (!errors.has(name)) errors.set(name, `line ${line}: ${message}`);
    }
    if (status !== 0 && errors.size === 0) throw new Error(`The Kotlin compiler failed: ${stderr.slice(-2000)}`);
    return errors;
  } finally {
    rmSync(folder, { recursive: true, force: true });
  }
}

/** The folder with the compiled stubs, named by what they are made of. */
function stubs(): string {
  const version = createHash('sha256').update(readFileSync(RECIPE)).update(ANDROID.join()).digest('hex').slice(0, 16);
  const classes = join(PROJECT, 'node_modules/.cache/linkwright', `android-stubs-${version}`);
  if (existsSync(classes)) return classes;
  const unfinished = `${classes}.${process.pid}`;
  const sources = join(unfinished, 'sources');
  mkdirSync(sources, { recursive: true });
  succeed(process.execPath, [RECIPE, TYPES, sources, ...ANDROID], { MODULES: PROJECT });
  correct(join(sources, 'android/os/Message.java'));
  const files = readdirSync(sources, { recursive: true, encoding: 'utf8' }).filter((name) => name.endsWith('.java')).map((name) => join(sources, name));
  succeed('javac', ['-nowarn', '-proc:none', '-d', join(unfinished, 'classes'), ...files]);
  if (!existsSync(classes)) renameSync(join(unfinished, 'classes'), classes);
  rmSync(unfinished, { recursive: true, force: true });
  return classes;
}

/** The type file does not tell the fields of objects. */
function correct(path: string): void {
  writeFileSync(path, readFileSync(path, 'utf8').replace(/(public class Message .*\{)/, '$1\n  public int what, arg1, arg2; public Object obj;'));
}

function succeed(command: string, args: readonly string[], env: Readonly<Record<string, string>> = {}): void {
  const { status, stderr } = spawnSync(command, args, { encoding: 'utf8', env: { ...process.env, ...env }, maxBuffer: 1 << 28 });
  if (status !== 0) throw new Error(`${command} failed: ${stderr.slice(-2000)}`);
}
