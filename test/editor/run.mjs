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
import { report } from './report.mjs';

/** In words, what keeps the tests from running here; `undefined` when nothing does. Installs the editor where it is missing. */
function lacking() {
  const lacks = missing();
  if (lacks.length > 0) return lacks.join('; ');
  try {
    const { installed, seconds } = install();
    if (installed) console.log(`editor: VS Code installed into ${HOST} in ${seconds.toFixed(0)} s`);
    return undefined;
  } catch (error) {
    return `a VS Code, which could not be installed: ${error.message}`;
  }
}

async function runAll() {
  const vsix = await packageExtension();
  console.log('editor: the suite runs in a VS Code that a browser shows, from the installed package (in the desktop one: node test/editor/electron.mjs)');
  const outcomes = [...(await runInHost(vsix)), ...(await asUser(vsix))];
  if (process.argv.includes('--pictures')) await takePicture(vsix);
  return outcomes;
}

const lacks = lacking();
if (lacks === undefined) {
  report(await runAll().catch((error) => [{ name: 'the package is made, and the editor starts', milliseconds: 0, error: error.stack }]));
} else if (process.env.CI === 'true') {
  report([{ name: 'a real VS Code starts', milliseconds: 0, error: `This machine lacks ${lacks}` }]);
} else {
  console.log(`editor: this machine lacks ${lacks}. Skipped: the suite in a real VS Code, and acting as a user in it.`);
  report([]);
}
