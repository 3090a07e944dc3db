/**
 * The tests that run inside a real VS Code, in its extension host. `run` is what the host calls, the one in the browser
 * (`run.mjs`) as well as the desktop one of `@vscode/test-electron` (`electron.mjs`). The extension under test is installed
 * from its package; these tests see it only through VS Code.
 */
import { writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { runTests } from './harness.js';
import './commands.js';
import './diagnostics.js';
import './fixes.js';
import './hover.js';
import './profile.js';

/** Runs all tests and leaves the outcomes beside this module, as JSON; throws when one has failed. */
export async function run(): Promise<void> {
  const outcomes = await runTests();
  writeFileSync(join(__dirname, 'outcomes.json'), JSON.stringify(outcomes));
  const failed = outcomes.filter(({ error }) => error !== undefined);
  if (failed.length > 0) throw new Error(`${failed.length} of ${outcomes.length} tests failed`);
}
