/**
 * The rooms of the project and who may import what, read from the import lines. A room that needs one more neighbour gets it
 * in the table here, where the next reader looks for it, and in DEVELOPERS.md.
 */
import { readdirSync, readFileSync } from 'node:fs';
import { dirname, join, posix } from 'node:path';
import { fileURLToPath } from 'node:url';
import { describe, expect, it } from 'vitest';

const PROJECT = fileURLToPath(new URL('..', import.meta.url));

/** `values`: may be imported whole; `types`: only with `import type`, so that nothing of it runs here. */
interface Neighbours {
  readonly values?: readonly string[];
  readonly types?: readonly string[];
}

const ROOMS: Readonly<Record<string, Neighbours>> = {
  'server/ir': {},
  'server/catalogue': { values: ['rules/catalogue'] },
  'server/flow': { values: ['server/ir'] },
  'server/profile': { values: ['server/catalogue'], types: ['server/ir'] },
  'server/frontend': { values: ['server/ir'] },
  'server/resolve': { values: ['server/ir', 'server/catalogue'], types: ['server/profile'] },
  'server/effects': { values: ['server/ir', 'server/flow', 'server/resolve', 'server/catalogue'], types: ['server/profile'] },
  'server/facts': { values: ['server/ir', 'server/effects'], types: ['server/resolve', 'server/catalogue', 'server/profile'] },
  'server/engine': { values: ['server/ir'], types: ['server/facts'] },
  'server/project': {
    values: ['server/ir', 'server/catalogue', 'server/frontend', 'server/resolve', 'server/effects', 'server/facts', 'server/engine', 'server/profile'],
  },
  'server/report': { values: ['server/ir', 'server/catalogue', 'server/engine', 'server/project', 'server/profile'] },
  'server/lsp': { values: ['server/ir', 'server/catalogue', 'server/engine', 'server/project', 'server/profile', 'server/report'], types: ['server/resolve'] },
  'server/cli': { values: ['server/engine', 'server/project', 'server/profile', 'server/report'] },
  /** Rules ask facts and make pieces of program; what facts are made of they know as types only. */
  rules: { values: ['server/engine', 'server/ir'], types: ['server/facts', 'server/effects', 'server/resolve', 'server/catalogue', 'server/profile'] },
  client: { values: ['server/lsp'] },
  'server/main.ts': { values: ['rules', 'server/lsp', 'server/project', 'server/engine', 'server/report', 'package.json'] },
  'server/cli.ts': { values: ['rules', 'server/cli', 'server/project', 'package.json'] },
};

/** Packages, and modules of Node.js, by where they may be imported. */
const PACKAGES: readonly { readonly name: RegExp; readonly only: readonly RegExp[]; readonly why: string }[] = [
  { name: /^vscode/, only: [/^server\/lsp\//, /^server\/main\.ts$/, /^client\//], why: 'the protocol stays at the rim' },
  { name: /^typescript$/, only: [/^server\/frontend\/typescript\//], why: 'one front end knows it' },
  { name: /^yaml$/, only: [/^server\/profile\//, /^client\/yaml-module\.mjs$/], why: 'the profile is the only YAML read at run time' },
  { name: /^(node:)?fs(\/|$)/, only: [/^server\/project\/files-node\.ts$/, /^server\/(main|cli)\.ts$/, /^client\/.*\.mjs$/], why: 'everything else asks the project’s FileSystem' },
  { name: /^node:/, only: [/^server\/project\/files-node\.ts$/, /^server\/(lsp|cli)\//, /^server\/(main|cli)\.ts$/, /^client\//], why: 'from syntax to findings everything is pure' },
];

/** Pages and folders of cases that rules lack so far. */
const NOT_WRITTEN = [
  'rules/queue/operation-outside-queue.md',
  'rules/links/link-not-closed.md', 'rules/limits/notify-over-limit.md', 'test/rules/operation-outside-queue',
];

interface Import {
  readonly from: string;
  /** A path from the project's folder, or a package's name. */
  readonly to: string;
  readonly isType: boolean;
  readonly isPackage: boolean;
}

const sources = ['server', 'rules', 'client'].flatMap(filesIn).filter((path) => /\.(ts|mjs)$/.test(path) && !/\.d\.m?ts$/.test(path));
const imports = sources.flatMap(importsOf);

/** Paths from the project's folder, with slashes. */
function filesIn(folder: string): string[] {
  return readdirSync(join(PROJECT, folder), { recursive: true, withFileTypes: true })
    .filter((entry) => entry.isFile())
    .map((entry) => join(entry.parentPath, entry.name).slice(PROJECT.length).replaceAll('\\', '/'));
}

function importsOf(path: string): Import[] {
  const text = readFileSync(join(PROJECT, path), 'utf8').replace(/\/\*[\s\S]*?\*\//g, '');
  const written = [
    ...text.matchAll(/^(?:import|export)\s+(type\s+)?(?:[\w*{}\s,$]+?\s+from\s+)?['"]([^'"]+)['"]/gm),
    ...text.matchAll(/\bimport\s*(?<type>\btypeof\b)?\(\s*['"]([^'"]+)['"]\s*\)/g),
  ];
  return written.map(([, type, to = '']) => {
    const isPackage = !to.startsWith('.');
    const target = isPackage ? to : posix.join(dirname(path), to).replace(/\?raw$/, '');
    return { from: path, to: target, isType: type !== undefined, isPackage };
  });
}

/** The longest entry of the table that the path lies in. */
function roomOf(path: string): string {
  const stem = path.replace(/\.js$/, '.ts');
  const rooms = [...Object.keys(ROOMS), 'rules/catalogue', 'package.json'].filter((room) => stem === room || stem.startsWith(`${room}/`));
  return rooms.sort((a, b) => b.length - a.length)[0] ?? path;
}

describe('the rooms', () => {
  it('are all in the table, and the import lines are read', () => {
    expect(sources.filter((path) => ROOMS[roomOf(path)] === undefined)).toEqual([]);
    expect(imports.length).toBeGreaterThan(sources.length);
  });

  it.each(Object.entries(ROOMS))('%s imports only its neighbours', (room, { values = [], types = [] }) => {
    const strangers = imports.filter(({ from, to, isType, isPackage }) => {
      if (isPackage || roomOf(from) !== room) return false;
      const other = roomOf(to);
      return other !== room && !values.includes(other) && !(isType && types.includes(other));
    });
    expect(strangers.map(({ from, to, isType }) => `${from} imports ${to}${isType ? ' (types)' : ''}`)).toEqual([]);
  });

  it('form no circle', () => {
    const reached = new Set<string>();
    const visit = (room: string, way: readonly string[]): void => {
      expect(way).not.toContain(room);
      if (reached.has(room)) return;
      for (const next of ROOMS[room]?.values ?? []) visit(next, [...way, room]);
      reached.add(room);
    };
    for (const room of Object.keys(ROOMS)) visit(room, []);
  });

  it('show the client nothing of the server but the words between them', () => {
    expect(imports.filter(({ from, to }) => from.startsWith('client/') && to.startsWith('server/') && to !== 'server/lsp/protocol.js')).toEqual([]);
  });

  it('keep the two front ends apart', () => {
    const side = (path: string): string | undefined => /^server\/frontend\/(\w+)\//.exec(path)?.[1];
    expect(imports.filter(({ from, to }) => side(from) !== undefined && side(to) !== undefined && side(from) !== side(to))).toEqual([]);
  });
});

describe('packages', () => {
  it.each(PACKAGES)('are imported only where they belong, since $why', ({ name, only }) => {
    const strangers = imports.filter(({ from, to, isPackage }) => isPackage && name.test(to) && !only.some((place) => place.test(from)));
    expect(strangers.map(({ from, to }) => `${from} imports ${to}`)).toEqual([]);
  });
});

describe('rules', () => {
  const ruleFiles = imports.filter(({ from, isPackage }) => from === 'rules/index.ts' && !isPackage)
    .map(({ to }) => to.replace(/\.js$/, '.ts')).filter((path) => path.startsWith('rules/'));

  it('never import one another', () => {
    expect(ruleFiles.length).toBeGreaterThan(4);
    const strangers = imports.filter(({ from, to }) => from !== 'rules/index.ts' && ruleFiles.includes(to.replace(/\.js$/, '.ts')));
    expect(strangers.map(({ from, to }) => `${from} imports ${to}`)).toEqual([]);
  });

  const stemOf = (path: string): string => path.slice(path.lastIndexOf('/') + 1).replace(/\.\w+$/, '');

  it('have a page beside them and a folder of cases of the same name, and no page or folder is without a rule', () => {
    const pages = filesIn('rules').filter((path) => /^rules\/[^/]+\/[^/]+\.md$/.test(path));
    const folders = [...new Set(filesIn('test/rules').filter((path) => path.split('/').length > 3).map((path) => path.split('/')[2]!))];
    const wanted = ruleFiles.flatMap((path) => [path.replace(/\.ts$/, '.md'), `test/rules/${stemOf(path)}`]);
    const present = [...pages, ...folders.map((folder) => `test/rules/${folder}`)];
    expect(present.filter((path) => !wanted.includes(path))).toEqual([]);
    expect(wanted.filter((path) => !present.includes(path) && !NOT_WRITTEN.includes(path))).toEqual([]);
  });

  it('have their id as the name of their file', () => {
    for (const path of ruleFiles) {
      expect(readFileSync(join(PROJECT, path), 'utf8'), path).toContain(`id: '${stemOf(path)}'`);
    }
  });
});

describe('files', () => {
  it('are no longer than 500 lines', () => {
    const checked = [...sources, ...filesIn('test').filter((path) => /\.(ts|mjs)$/.test(path) && !/^test\/(workspaces|rules|lower\/twins)\//.test(path))];
    const long = checked.map((path) => ({ path, lines: readFileSync(join(PROJECT, path), 'utf8').split('\n').length - 1 })).filter(({ lines }) => lines > 500);
    expect(long).toEqual([]);
  });

  it('say at their beginning what they are', () => {
    expect(sources.filter((path) => !/^(#!.*\n)?\/\*\*/.test(readFileSync(join(PROJECT, path), 'utf8')))).toEqual([]);
  });
});
