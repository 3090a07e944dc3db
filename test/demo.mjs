/**
 * `npm run demo`: brings what is missing, builds, checks the demo workspace with the built command line, shows what it
 * finds, and holds that against the workspace's own list of its faults. Ends with status 0 when they agree.
 */
import { spawnSync } from 'node:child_process';
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { expectedFindings, differences, findingsIn } from './support/expected.mjs';
import { build, installDependencies, PROJECT } from './support/setup.mjs';

const WORKSPACE = 'test/workspaces/hive-scale';

function check(...options) {
  const { stdout, stderr, error } = spawnSync(process.execPath, [join(PROJECT, 'dist/cli.js'), 'check', WORKSPACE, ...options], {
    cwd: PROJECT, encoding: 'utf8', maxBuffer: 1 << 28,
  });
  if (error !== undefined) throw error;
  process.stderr.write(stderr);
  return stdout;
}

function main() {
  installDependencies();
  if (!build()) throw new Error('The build failed.');
  console.log(`\n$ linkwright check ${WORKSPACE}\n`);
  console.log(check());
  const expected = expectedFindings(readFileSync(join(PROJECT, WORKSPACE, 'EXPECTED.md'), 'utf8'));
  const found = findingsIn(JSON.parse(check('--format', 'sarif')), WORKSPACE);
  const differing = differences(expected, found);
  for (const difference of differing) console.log(difference);
  console.log(differing.length === 0
    ? `All ${expected.length} findings are those that EXPECTED.md lists, and there are no others.`
    : `${differing.length} differences from the ${expected.length} findings that EXPECTED.md lists.`);
  return differing.length === 0 ? 0 : 1;
}

try {
  process.exitCode = main();
} catch (error) {
  console.error(error.message);
  process.exitCode = 2;
}
