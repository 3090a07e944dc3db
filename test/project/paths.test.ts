import { describe, expect, it } from 'vitest';
import { baseName, commonFolder, folderOf, isBelow, join, normalPath, relativePath, upward } from '../../server/project/paths.js';

describe('paths', () => {
  it('have forward slashes on every system', () => {
    expect(normalPath('C:\\app\\src\\A.kt')).toBe('C:/app/src/A.kt');
    expect(normalPath('\\\\server\\share\\A.kt')).toBe('//server/share/A.kt');
    expect(normalPath('/app/odd\\name.kt')).toBe('/app/odd\\name.kt');
    expect(normalPath('/app/')).toBe('/app');
    expect(normalPath('/')).toBe('/');
    expect(normalPath('C:/')).toBe('C:/');
  });

  it('have folders up to a root', () => {
    expect(upward('/a/b')).toEqual(['/a/b', '/a', '/']);
    expect(upward('C:/a')).toEqual(['C:/a', 'C:/']);
    expect(folderOf('/A.kt')).toBe('/');
    expect(baseName('/a/A.kt')).toBe('A.kt');
    expect(join('/', 'a')).toBe('/a');
  });

  it('lie below a folder only at its slash', () => {
    expect(isBelow('/app/a', '/app')).toBe(true);
    expect(isBelow('/app', '/app')).toBe(true);
    expect(isBelow('/apple/a', '/app')).toBe(false);
    expect(isBelow('/a', '/')).toBe(true);
  });

  it.each([
    ['/app', '/app/src/A.kt', 'src/A.kt'],
    ['/app', '/app', '.'],
    ['/app/src', '/app/lib/B.kt', '../lib/B.kt'],
    ['/', '/a/B.kt', 'a/B.kt'],
    ['/x/y', '/a/B.kt', '../../a/B.kt'],
    ['C:/a', 'D:/b/C.kt', 'D:/b/C.kt'],
  ])('are written from %s as people write them: %s', (base, path, expected) => {
    expect(relativePath(base, path)).toBe(expected);
  });

  it('have a deepest folder in common, or none', () => {
    expect(commonFolder(['/a/b/c', '/a/b/d', '/a/b'])).toBe('/a/b');
    expect(commonFolder(['/a', '/b'])).toBe('/');
    expect(commonFolder(['C:/a', 'D:/a'])).toBeUndefined();
    expect(commonFolder([])).toBeUndefined();
  });
});
