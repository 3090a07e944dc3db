/**
 * `--compile`: the Kotlin mutants as the Kotlin compiler sees them, all in one run; each is a copy of its app in a package of
 * its own. Android's classes come as stubs, made from a published type file by the recipe beside the project. Without that
 * recipe, a JDK or the compiler's package it says what is missing, and nothing is compiled.
 */
import { spawnSync } from 'node:child_process';
import { existsSync, mkdirSync, mkdtempSync, readFileSync, readdirSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { delimiter, dirname, join } from 'node:path';
import type { App } from '../apps/apps.js';
import type { Verdict } from './judge.js';

/** Classes that the apps use; whatever these name comes along without members. */
const ANDROID = [
  'android.bluetooth.*', 'android.os.Handler', 'android.os.HandlerThread', 'android.os.Message', 'android.os.Looper', 'android.os.Build',
  'android.os.Parcelable', 'android.os.ParcelUuid', 'android.os.Bundle', 'android.os.IBinder', 'android.os.Binder', 'android.content.ComponentName',
  'android.content.ServiceConnection', 'android.content.SharedPreferences', 'android.content.Context', 'android.content.ContextWrapper',
  'android.content.Intent', 'android.content.BroadcastReceiver', 'android.content.pm.PackageManager', 'android.app.Service', 'android.app.Activity',
  'android.app.Application', 'android.util.Log', 'android.util.SparseArray', 'android.Manifest', 'android.view.ContextThemeWrapper',
  'android.view.Menu', 'android.view.MenuItem', 'android.widget.TextView',
];

/** What the type file does not tell: fields of objects, and methods of interfaces that have a body. */
const CORRECTIONS: readonly { readonly file: string; readonly from: RegExp; readonly to: string }[] = [
  { file: 'android/os/Message.java', from: /(public class Message .*\{)/, to: '$1\n  public int what, arg1, arg2; public Object obj;' },
  { file: 'android/content/ServiceConnection.java', from: /public void (onBindingDied|onNullBinding)\((.*)\);/g, to: 'public default void $1($2) {}' },
];

/** @returns false when a mutant does not compile */
export function compileKotlin(tests: string, apps: readonly App[], verdicts: readonly Verdict[]): boolean {
  const project = dirname(tests);
  const recipe = join(project, '../shared/recipes/kotlin/android-stubs.mjs');
  const missing = !existsSync(recipe) ? 'the recipe for stubs of Android' : spawnSync('javac', ['-version']).error ? 'a JDK' : undefined;
  if (missing !== undefined) {
    console.log(`\nNothing was compiled: ${missing} is not there.`);
    return true;
  }
  const folder = mkdtempSync(join(tmpdir(), 'linkwright-mutants-'));
  try {
    const mutants = verdicts.filter(({ mutant }) => mutant.path.endsWith('.kt'));
    const paths = mutants.flatMap(({ mutant, texts }, i) => written(join(folder, `m${i}`), apps.find(({ name }) => name === mutant.app)!, texts, `m${i}`));
    const errors = errorsOf(project, stubs(project, recipe, folder), [...paths, ...standIns(tests)], folder);
    const failing = mutants.flatMap((verdict, i) => (errors.has(i) ? [`- ${verdict.at} ${verdict.mutant.operator}: ${errors.get(i)}`] : []));
    console.log([`\n${mutants.length} Kotlin mutants compiled, ${failing.length} with an error.`, ...failing].join('\n'));
    return failing.length === 0;
  } finally {
    rmSync(folder, { recursive: true, force: true });
  }
}

function standIns(tests: string): readonly string[] {
  const folder = join(tests, 'apps/stand-ins');
  return readdirSync(folder).filter((name) => name.endsWith('.kt')).map((name) => join(folder, name));
}

/** A copy of an app, its own packages below another one. */
function written(folder: string, { files }: App, texts: ReadonlyMap<string, string>, below: string): readonly string[] {
  const sources = [...files.keys()].filter((path) => path.endsWith('.kt')).map((path) => ({ path, text: texts.get(path) ?? files.get(path)! }));
  const packages = [...new Set(sources.flatMap(({ text }) => /^package ([\w.]+)/m.exec(text)?.[1] ?? []))];
  const own = new RegExp(`^(package|import) (${packages.map((name) => name.replaceAll('.', '\\.')).join('|')})(?=$|\\.)`, 'gm');
  return sources.map(({ path, text }) => {
    const to = join(folder, path);
    mkdirSync(dirname(to), { recursive: true });
    writeFileSync(to, text.replace(own, `$1 ${below}.$2`));
    return to;
  });
}

function stubs(project: string, recipe: string, folder: string): string {
  const [sources, classes] = [join(folder, 'stubs'), join(folder, 'classes')];
  const types = join(project, 'node_modules/@nativescript/types-android/lib/android/android-platform-37.d.ts');
  succeed(process.execPath, [recipe, types, sources, ...ANDROID], { MODULES: project });
  for (const { file, from, to } of CORRECTIONS) {
    const path = join(sources, file);
    writeFileSync(path, readFileSync(path, 'utf8').replace(from, to));
  }
  const files = readdirSync(sources, { recursive: true, encoding: 'utf8' }).filter((name) => name.endsWith('.java')).map((name) => join(sources, name));
  succeed('javac', ['-nowarn', '-proc:none', '-d', classes, ...files]);
  return classes;
}

function succeed(command: string, args: readonly string[], env: Readonly<Record<string, string>> = {}): void {
  const { status, stderr } = spawnSync(command, args, { encoding: 'utf8', env: { ...process.env, ...env } });
  if (status !== 0) throw new Error(`${command} failed: ${stderr}`);
}

/** The first error of each mutant, by its number. */
function errorsOf(project: string, android: string, paths: readonly string[], folder: string): ReadonlyMap<number, string> {
  const lib = join(project, 'node_modules/kotlin-compiler/lib');
  const jars = ['kotlin-compiler', 'kotlin-stdlib', 'kotlin-reflect', 'kotlinx-coroutines-core-jvm', 'annotations-13.0'].map((name) => join(lib, `${name}.jar`));
  const list = join(folder, 'arguments');
  writeFileSync(list, paths.map((path) => `"${path}"`).join('\n'));
  const { stderr, status } = spawnSync('java', [
    '-Xmx6g', '-Xss16m', '-cp', jars.join(delimiter), 'org.jetbrains.kotlin.cli.jvm.K2JVMCompiler', '-nowarn', '-no-stdlib', '-no-reflect',
    '-cp', [android, ...jars.slice(1)].join(delimiter), '-d', join(folder, 'out'), `@${list}`,
  ], { encoding: 'utf8', maxBuffer: 1 << 28 });
  const errors = new Map<number, string>();
  for (const [, number, line, message] of stderr.matchAll(/\/m(\d+)\/\S+?:(\d+):\d+: error: (.*)/g)) {
    if (!errors.has(Number(number))) errors.set(Number(number), `line ${line}: ${message}`);
  }
  if (status !== 0 && errors.size === 0) throw new Error(`The Kotlin compiler failed: ${stderr.slice(-2000)}`);
  return errors;
}
