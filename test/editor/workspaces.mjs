/** Copies of the workspaces in throwaway folders, since the editor's tests change files. */
import { cpSync, mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { PROJECT } from './host.mjs';

/**
 * Runs `use` on a copy of `test/workspaces/<name>` and removes the copy.
 * @template T
 * @param {string} name
 * @param {(folder: string) => Promise<T>} use
 * @returns {Promise<T>}
 */
export async function withCopy(name, use) {
  const around = mkdtempSync(join(tmpdir(), 'linkwright-workspace-'));
  const folder = join(around, name);
  cpSync(join(PROJECT, 'test/workspaces', name), folder, { recursive: true });
  try {
    return await use(folder);
  } finally {
    rmSync(around, { recursive: true, force: true });
  }
}
