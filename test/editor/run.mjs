/**
 * The editor's tests: packages the extension, installs it into a real VS Code, runs the suite in its extension host, and acts
 * as a user in its workbench. Ends with a line `editor: N passed, N failed`. What a machine lacks is named: in CI (`CI=true`)
 * that is a failure, elsewhere those tests are skipped.
 *
 * `node test/editor/run.mjs [--pictures]`: with `--pictures` the picture in README is taken anew.
 */
import { packageExtension } from '../../client/package.mjs';
import { asUser } from './as-user.mjs';
import { HOST, install, missing } from './host.mjs';
import { runInHost } from './in-host.mjs';
import { takePicture } from './pictures.mjs';

/** @returns {Promise<{ passed: number, failed: number, skipped: number }>} `skipped`: 1 when nothing could run */
export async function testEditor({ pictures = false } = {}) {
  const lacks = missing();
  if (lacks.length > 0) return without(lacks.join('; '));
  try {
    const { installed, seconds } = install();
    if (installed) console.log(`editor: VS Code installed into ${HOST} in ${seconds.toFixed(0)} s`);
  } catch (error) {
    return without(`a VS Code, which could not be installed: ${error.message}`);
  }

  const vsix = await packageExtension();
  console.log('editor: the suite runs in a VS Code that is shown in a browser, from the installed package (the desktop one: node test/editor/electron.mjs)');
  const outcomes = [...(await runInHost(vsix)), ...(await asUser(vsix))];
  for (const { name, milliseconds, error } of outcomes) console.log(`${error === undefined ? '  ok  ' : '  FAIL'} ${name} (${milliseconds} ms)${error === undefined ? '' : `\n${error}`}`);
  if (pictures) await takePicture(vsix);
  const failed = outcomes.filter(({ error }) => error !== undefined).length;
  return { passed: outcomes.length - failed, failed, skipped: 0 };
}

/** In CI everything must be there. */
function without(lacks) {
  const isCi = process.env.CI === 'true';
  console.log(`editor: this machine lacks ${lacks}. ${isCi ? 'In CI that is a failure.' : 'Skipped: the suite in a real VS Code, and acting as a user in it.'}`);
  return { passed: 0, failed: isCi ? 1 : 0, skipped: isCi ? 0 : 1 };
}

const { passed, failed } = await testEditor({ pictures: process.argv.includes('--pictures') });
console.log(`editor: ${passed} passed, ${failed} failed`);
process.exitCode = failed > 0 ? 1 : 0;
