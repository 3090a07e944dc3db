import { mkdir, mkdtemp, rm, symlink, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join as joinNative } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { typescriptEndings } from '../../server/frontend/typescript/index.js';
import { discover, fileKind, LARGEST_FILE, projectFolder, type FileSystem } from '../../server/project/files.js';
import { nodeFiles, watchFolders } from '../../server/project/files-node.js';
import { load, reload } from '../../server/project/load.js';
import { normalPath } from '../../server/project/paths.js';
import { memoryFiles } from './memory-files.js';

const TREE = {
  '/work/.git/config': '',
  '/work/hive.device.yaml': 'device: {}',
  '/work/build.gradle.kts': '',
  '/work/app/build.gradle': '',
  '/work/app/src/Link.kt': 'class Link',
  '/work/app/src/About.java': '',
  '/work/app/build/generated/Gen.kt': '',
  '/work/web/src/live.tsx': '',
  '/work/web/src/generated/api.ts': '',
  '/work/web/node_modules/left/index.ts': '',
  '/work/web/dist/live.js': '',
  '/work/web/.cache/a.ts': '',
  '/work/web/public/vendor.min.js': '',
  '/other/else.device.yaml': '',
};

describe('what a search finds', () => {
  it('is sources, profiles and build files, in order, without what programs made', async () => {
    expect(await discover(memoryFiles(TREE), ['/work'])).toMatchObject({
      sources: ['/work/app/src/Link.kt', '/work/web/src/live.tsx'],
      profiles: ['/work/hive.device.yaml'],
      builds: ['/work/app/build.gradle', '/work/build.gradle.kts'],
      notes: [],
    });
  });

  it('is the same whatever order a folder is listed in', async () => {
    const fs = memoryFiles(TREE);
    const backwards: FileSystem = { ...fs, list: async (folder) => [...(await fs.list(folder) ?? [])].reverse() };
    expect(await discover(backwards, ['/work'])).toEqual(await discover(fs, ['/work']));
  });

  it('holds what is in force from the folders around, up to that of the repository', async () => {
    const tree = { ...TREE, '/far.device.yaml': '' };
    expect(await discover(memoryFiles(tree), ['/work/app/src/Link.kt'])).toMatchObject({
      sources: ['/work/app/src/Link.kt'],
      profiles: ['/work/hive.device.yaml'],
      builds: ['/work/app/build.gradle', '/work/build.gradle.kts'],
    });
  });

  it('is searched for in a named folder, whatever its name', async () => {
    const found = await discover(memoryFiles(TREE), ['/work/web/dist', '/work/app/build']);
    expect(found.sources).toEqual(['/work/web/dist/live.js']);
  });

  it('leaves out files that are too large, and says so', async () => {
    const fs = memoryFiles({ '/a/Big.kt': 'x'.repeat(LARGEST_FILE + 1), '/a/Small.kt': 'x' });
    const found = await discover(fs, ['/a']);
    expect(found.sources).toEqual(['/a/Small.kt']);
    expect(found.notes).toEqual([{ path: '/a/Big.kt', message: 'The file is larger than 2 MB and was left out.' }]);
  });

  it('knows every ending that the TypeScript front end reads', () => {
    for (const ending of typescriptEndings) expect(fileKind(`/a/file${ending}`)).toBe('source');
  });

  it('reads a single file along with its project', async () => {
    const fs = memoryFiles({ ...TREE, '/work/web/package.json': '{}' });
    expect(await projectFolder(fs, '/work/web/src/live.tsx')).toBe('/work/web');
    expect(await projectFolder(fs, '/work/app/src/Link.kt')).toBe('/work');
    expect(await projectFolder(memoryFiles({ '/a/b.kt': '' }), '/a/b.kt')).toBe('/a');
  });
});

describe('loading', () => {
  it('reads all that was found, and notes what cannot be read', async () => {
    const fs = memoryFiles({ '/a/A.kt': 'class A', '/a/B.kt': 'class B' });
    const { changes, notes } = await load({ ...fs, read: async (path) => (path.endsWith('B.kt') ? undefined : fs.read(path)) }, ['/a']);
    expect(changes).toEqual([{ is: 'disk', path: '/a/A.kt', text: 'class A' }]);
    expect(notes).toEqual([{ path: '/a/B.kt', message: 'The file cannot be read.' }]);
  });

  it('reads single files again, and knows which are gone', async () => {
    const fs = memoryFiles({ '/a/A.kt': 'class A' });
    expect(await reload(fs, ['/a/Gone.kt', '/a/A.kt', '/a/notes.txt'])).toEqual([
      { is: 'disk', path: '/a/A.kt', text: 'class A' }, { is: 'disk', path: '/a/Gone.kt' },
    ]);
  });
});

describe('the file system of Node.js', () => {
  let root: string;
  beforeAll(async () => {
    root = normalPath(await mkdtemp(joinNative(tmpdir(), 'linkwright-files-')));
    await mkdir(`${root}/src/deep`, { recursive: true });
    await writeFile(`${root}/src/A.kt`, '\uFEFFclass A');
    await writeFile(`${root}/src/deep/B.kt`, 'class B');
    await symlink(root, `${root}/src/deep/up`);
    await symlink(`${root}/src/A.kt`, `${root}/src/Linked.kt`);
    await symlink(`${root}/nowhere`, `${root}/src/Dangling.kt`);
  });
  afterAll(() => rm(root, { recursive: true }));

  it('is searched once where links lead in a circle', async () => {
    const found = await discover(nodeFiles, [root]);
    expect(found.sources).toEqual([`${root}/src/A.kt`, `${root}/src/Linked.kt`, `${root}/src/deep/B.kt`]);
  });

  it('reads text without a byte order mark, and nothing where there is nothing', async () => {
    expect(await nodeFiles.read(`${root}/src/A.kt`)).toBe('class A');
    expect(await nodeFiles.read(`${root}/src`)).toBeUndefined();
    expect(await nodeFiles.list(`${root}/src/A.kt`)).toBeUndefined();
    expect(await nodeFiles.stat(`${root}/src/Dangling.kt`)).toBeUndefined();
  });

  it('tells of changes in the folders it watches', async () => {
    const ended = new AbortController();
    const told = new Promise<string>((resolve) => watchFolders([`${root}/src`, `${root}/missing`], resolve, ended.signal));
    await writeFile(`${root}/src/New.kt`, 'class New');
    expect(await told).toBe(`${root}/src/New.kt`);
    ended.abort();
  });
});
