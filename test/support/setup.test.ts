import { mkdirSync, mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { lackingPackages, PROJECT } from './setup.mjs';

describe('the packages that are lacking', () => {
  let project: string;
  beforeEach(() => { project = mkdtempSync(join(tmpdir(), 'linkwright-setup-')); });
  afterEach(() => rmSync(project, { recursive: true }));

  const lock = (path: string, packages: object): void => writeFileSync(join(project, path), JSON.stringify({ packages }));
  const wanted = { '': {}, 'node_modules/a': { version: '1.0.0' }, 'node_modules/@s/b': { version: '2.0.0' }, 'node_modules/win': { version: '1.0.0', optional: true } };

  it('are all of them where nothing is installed', () => {
    lock('package-lock.json', wanted);
    expect(lackingPackages(project)).toEqual(['a', '@s/b']);
  });

  it('are those of another version, and those that are not there', () => {
    lock('package-lock.json', wanted);
    mkdirSync(join(project, 'node_modules'));
    lock('node_modules/.package-lock.json', { 'node_modules/a': { version: '0.9.0' }, 'node_modules/extra': { version: '1.0.0' } });
    expect(lackingPackages(project)).toEqual(['a', '@s/b']);
    lock('node_modules/.package-lock.json', { 'node_modules/a': { version: '1.0.0' }, 'node_modules/@s/b': { version: '2.0.0' } });
    expect(lackingPackages(project)).toEqual([]);
  });

  it('are none here, where these tests run', () => {
    expect(lackingPackages(PROJECT)).toEqual([]);
  });
});
