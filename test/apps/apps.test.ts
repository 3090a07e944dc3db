/**
 * The apps are silent at the levels of warning and error, and not because nobody understood them: every link, operation
 * and callback in them is recognised. They are real programs: the compiler of their language takes them.
 */
import { join } from 'node:path';
import ts from 'typescript';
import { describe, expect, it } from 'vitest';
import { rules } from '../../rules/index.js';
import { defaultSettings } from '../../server/engine/settings.js';
import { checkFile } from '../../server/project/check.js';
import { checkerOf, linking } from '../../server/project/checker.js';
import { Snapshot } from '../../server/project/snapshot.js';
import { Surroundings } from '../../server/project/surroundings.js';
import { compilerTrees, missingForCompiler } from '../support/kotlin-compiler.js';
import { appsIn, type App } from './apps.js';

const FOLDER = new URL('.', import.meta.url).pathname;
const PROJECT = new URL('../../', import.meta.url).pathname;
const apps = appsIn(FOLDER);

/** Counted by hand: links opened, operations started or awaited, callbacks with a status. */
const HELD: Readonly<Record<string, { readonly links: number; readonly operations: number; readonly callbacks: number }>> = {
  'camp-lights': { links: 2, operations: 4, callbacks: 5 },
  'frost-watch': { links: 1, operations: 7, callbacks: 6 },
  'garden-valves': { links: 1, operations: 7, callbacks: 7 },
  'kiln-log': { links: 1, operations: 6, callbacks: 6 },
  'reef-light': { links: 1, operations: 9, callbacks: 0 },
  'roast-probe': { links: 1, operations: 11, callbacks: 0 },
};

function checked({ files }: App) {
  const { snapshot } = Snapshot.empty(linking).apply([...files].map(([path, text]) => ({ is: 'disk', path, text } as const)));
  const checker = checkerOf(rules, new Surroundings());
  const paths = [...snapshot.paths('source'), ...snapshot.paths('profile')];
  return { snapshot, checks: paths.map((path) => checkFile(path, snapshot, checker, defaultSettings)) };
}

describe.each(apps)('$name', (app) => {
  const { snapshot, checks } = checked(app);

  it('is silent at the levels of warning and error', () => {
    const findings = checks.flatMap(({ path, text, findings }) => findings.filter(({ severity }) => severity !== 'hint')
      .map(({ rule, at, message }) => `${path}:${text.slice(0, at.start).split('\n').length} ${rule} ${message}`));
    expect(findings).toEqual([]);
    expect(checks.flatMap(({ problems }) => problems)).toEqual([]);
  });

  it('is read whole', () => {
    expect(snapshot.paths('source').filter((path) => snapshot.fileOf(path)!.unreadable.length > 0)).toEqual([]);
  });

  it('has its links, operations and callbacks recognised', () => {
    const count = (of: 'links' | 'operations' | 'callbacks', which: 'known' | 'unknown') =>
      checks.reduce((sum, { coverage }) => sum + coverage[of][which], 0);
    const known = { links: count('links', 'known'), operations: count('operations', 'known'), callbacks: count('callbacks', 'known') };
    expect(known).toEqual(HELD[app.name]);
    expect(count('links', 'unknown') + count('operations', 'unknown') + count('callbacks', 'unknown')).toBe(0);
  });

  it('is of a size that can be read at one sitting', () => {
    const lines = [...app.files].filter(([path]) => /\.(kt|tsx?)$/.test(path)).reduce((sum, [, text]) => sum + text.split('\n').length - 1, 0);
    expect(lines).toBeGreaterThanOrEqual(250);
    expect(lines).toBeLessThanOrEqual(500);
  });

  if (app.language === 'typescript') it('is taken by the TypeScript compiler', () => {
    const root = join(FOLDER, app.name);
    const { config } = ts.readConfigFile(join(root, 'tsconfig.json'), ts.sys.readFile);
    const { options, fileNames } = ts.parseJsonConfigFileContent(config, ts.sys, root);
    const program = ts.createProgram(fileNames, { ...options, typeRoots: [join(PROJECT, 'node_modules/@types')] });
    const found = ts.getPreEmitDiagnostics(program).map(({ file, start, messageText }) =>
      `${file?.fileName}:${start} ${ts.flattenDiagnosticMessageText(messageText, '\n')}`);
    expect(found).toEqual([]);
  });
});

const missing = missingForCompiler();

describe(missing === undefined ? 'the Kotlin compiler' : `the Kotlin compiler is not asked: ${missing} is not there`, () => {
  it.runIf(missing === undefined)('parses every file without an error', () => {
    const paths = apps.flatMap(({ files }) => [...files.keys()]).filter((path) => path.endsWith('.kt')).map((path) => join(FOLDER, path));
    const trees = compilerTrees(paths);
    expect(trees.size).toBe(paths.length);
    expect([...trees].filter(([, { errors }]) => errors > 0)).toEqual([]);
  });
});
