/**
 * `npm test`: brings what is missing, builds, and runs every test there is: the types, the tests in Node.js, the suites in a
 * real VS Code. Ends with the line `N passed, N failed`; the exit status is 1 when anything failed.
 */
import { spawn } from 'node:child_process';
import { mkdtempSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { build, installDependencies, PROJECT, succeeds } from './support/setup.mjs';

const sum = { passed: 0, failed: 0 };

function count(passed, failed) {
  sum.passed += passed;
  sum.failed += failed;
}

/** One thing that either works or does not. */
function step(name, works) {
  console.log(`\n── ${name}`);
  const isRight = works();
  if (!isRight) console.log(`FAIL ${name}`);
  count(isRight ? 1 : 0, isRight ? 0 : 1);
  return isRight;
}

function tool(name, ...args) {
  return succeeds(process.execPath, join(PROJECT, 'node_modules', name), ...args);
}

/** The runner's own account of its tests; a file that cannot even be loaded counts as one that failed. */
function unitTests() {
  console.log('\n── tests in Node.js');
  const folder = mkdtempSync(join(tmpdir(), 'linkwright-test-'));
  try {
    const file = join(folder, 'results.json');
    const isRight = tool('vitest/vitest.mjs', 'run', '--config', 'test/vitest.config.ts', '--reporter=default', '--reporter=json', `--outputFile=${file}`);
    const { numPassedTests, numFailedTests, testResults } = JSON.parse(readFileSync(file, 'utf8'));
    const unloadable = testResults.filter(({ status, assertionResults }) =>
      status === 'failed' && assertionResults.every((test) => test.status !== 'failed')).length;
    // An error outside of any test (an unhandled rejection) fails the run though no test did.
    const failed = numFailedTests + unloadable;
    count(numPassedTests, failed > 0 || isRight ? failed : 1);
  } catch (error) {
    console.log(`FAIL the tests in Node.js left no account: ${error.message}`);
    count(0, 1);
  } finally {
    rmSync(folder, { recursive: true, force: true });
  }
}

/** The editor's tests print their own sum. */
async function editorTests() {
  console.log('\n── tests in a real VS Code');
  const { status, output } = await shown(process.execPath, join(PROJECT, 'test/editor/run.mjs'));
  const said = [...output.matchAll(/^editor: (\d+) passed, (\d+) failed/gm)].at(-1);
  if (said === undefined) {
    console.log(`FAIL the tests in a real VS Code ended with status ${status} and without a sum`);
    count(0, 1);
  } else {
    const failed = Number(said[2]);
    count(Number(said[1]), failed > 0 || status === 0 ? failed : 1);
  }
}

/** Runs a program, shows what it prints, and keeps it. */
function shown(command, ...args) {
  return new Promise((resolve) => {
    const child = spawn(command, args, { cwd: PROJECT, stdio: ['ignore', 'pipe', 'inherit'] });
    let output = '';
    child.stdout.setEncoding('utf8').on('data', (text) => {
      output += text;
      process.stdout.write(text);
    });
    child.on('error', (error) => resolve({ status: error.message, output }));
    child.on('close', (status) => resolve({ status, output }));
  });
}

async function main() {
  try {
    installDependencies();
  } catch (error) {
    console.log(error.message);
    count(0, 1);
    return;
  }
  const isBuilt = step('build', build);
  step('types', () => tool('typescript/bin/tsc', '--noEmit'));
  if (isBuilt) step('the demo is found to have the faults that its list names, and no others', () => succeeds(process.execPath, join(PROJECT, 'test/demo.mjs')));
  unitTests();
  // The package under test is made of the build.
  if (isBuilt) await editorTests();
}

await main();
console.log(`\n${sum.passed} passed, ${sum.failed} failed`);
process.exitCode = sum.failed > 0 ? 1 : 0;
