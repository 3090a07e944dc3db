/**
 * What a project says after many edits, checking only what each edit concerns, is what a fresh project says about the same
 * texts: held on the demo workspace with the real analysis, so that a dependency nobody thought of shows.
 */
import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { rules } from '../../rules/index.js';
import { defaultSettings } from '../../server/engine/settings.js';
import { checkerOf, linking } from '../../server/project/checker.js';
import { fileKind } from '../../server/project/files.js';
import { Project } from '../../server/project/project.js';
import type { Change } from '../../server/project/snapshot.js';
import { Surroundings } from '../../server/project/surroundings.js';

const WORKSPACE = fileURLToPath(new URL('../workspaces/hive-scale/', import.meta.url));

function textsOnDisk(): Map<string, string> {
  const paths = readdirSync(WORKSPACE, { recursive: true, encoding: 'utf8' }).filter((path) => fileKind(path) !== undefined).sort();
  return new Map(paths.map((path) => [`/hive/${path.replaceAll('\\', '/')}`, readFileSync(join(WORKSPACE, path), 'utf8')]));
}

function freshProject(): Project {
  return new Project({ linking, checker: checkerOf(rules, new Surroundings()), pause: async () => {} }, defaultSettings);
}

const disk = (path: string, text?: string): Change => ({ is: 'disk', path, ...(text !== undefined && { text }) });

async function checked(project: Project, changes: readonly Change[]): Promise<string[]> {
  project.apply(changes);
  await project.check();
  return project.results().flatMap(({ path, findings, problems }) => [
    ...findings.map(({ rule, severity, at, message }) => `${path} ${at.start} ${severity} ${rule}: ${message}`),
    ...problems.map(({ rule, message }) => `${path} ${rule} gave way: ${message}`),
  ]);
}

/** One change of the workspace: a line taken out, doubled or put back, or a whole file taken away or brought back. */
type Step = { readonly file: number; readonly line: number; readonly what: 'drop' | 'double' | 'remove' | 'restore' };

const steps = fc.array(fc.record<Step>({
  file: fc.nat(), line: fc.nat(), what: fc.constantFrom('drop', 'drop', 'drop', 'double', 'remove', 'restore', 'restore'),
}), { minLength: 4, maxLength: 4 });

function take({ file, line, what }: Step, texts: Map<string, string>, original: ReadonlyMap<string, string>): Change {
  const path = [...original.keys()][file % original.size]!;
  const text = texts.get(path);
  if (text === undefined || what === 'restore') {
    texts.set(path, original.get(path)!);
    return disk(path, original.get(path)!);
  }
  if (what === 'remove') {
    texts.delete(path);
    return disk(path);
  }
  const lines = text.split('\n');
  const at = line % lines.length;
  lines.splice(at, what === 'drop' ? 1 : 0, ...(what === 'drop' ? [] : [lines[at]!]));
  texts.set(path, lines.join('\n'));
  return disk(path, lines.join('\n'));
}

describe('a project that was edited', () => {
  it('says what a fresh one says about the same texts', async () => {
    const original = textsOnDisk();
    expect(original.size).toBeGreaterThan(20);
    await fc.assert(fc.asyncProperty(steps, async (taken) => {
      const texts = new Map(original);
      const edited = freshProject();
      const before = await checked(edited, [...texts].map(([path, text]) => disk(path, text)));
      expect(before.length).toBeGreaterThan(10);
      for (const step of taken) {
        const after = await checked(edited, [take(step, texts, original)]);
        expect(after).toEqual(await checked(freshProject(), [...texts].map(([path, text]) => disk(path, text))));
      }
    }), { numRuns: 5 });
  });
});
