/**
 * What has to be there before anything runs, brought by `npm test` and `npm run demo` themselves: the dependencies as
 * `package-lock.json` has them, and the build. Only modules of Node.js are used, as nothing else may be there yet.
 */
import { spawnSync } from 'node:child_process';
import { readFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';

export const PROJECT = fileURLToPath(new URL('../../', import.meta.url));

/** Runs a program in the project's folder and shows what it prints; true when it ends well. */
export function succeeds(command, ...args) {
  const { status, error } = spawnSync(command, args, { cwd: PROJECT, stdio: 'inherit' });
  if (error !== undefined) console.error(`${command}: ${error.message}`);
  return status === 0;
}

/** Installs the dependencies unless they are there. @throws {Error} with a sentence when they cannot be had */
export function installDependencies() {
  const lacking = lackingPackages();
  if (lacking.length === 0) return;
  const [first, ...others] = lacking;
  console.log(`Installing dependencies (${first}${others.length > 0 ? ` and ${others.length} more` : ''} not there as package-lock.json has it) …`);
  if (!succeeds('npm', 'ci', '--no-audit', '--no-fund')) throw new Error('The dependencies could not be installed: "npm ci" failed.');
}

/**
 * Names of the packages that are missing or of another version than the lock's. npm keeps account of what it installed in
 * `node_modules/.package-lock.json`; a package that may be missing (one for another system) is not asked for.
 */
export function lackingPackages(project = PROJECT) {
  const wanted = packagesOf(`${project}/package-lock.json`);
  const present = packagesOf(`${project}/node_modules/.package-lock.json`);
  return Object.entries(wanted ?? {})
    .filter(([path, { version, optional, link }]) => path !== '' && !optional && !link && present?.[path]?.version !== version)
    .map(([path]) => path.slice(path.lastIndexOf('node_modules/') + 'node_modules/'.length));
}

function packagesOf(lockfile) {
  try {
    return JSON.parse(readFileSync(lockfile, 'utf8')).packages;
  } catch {
    return undefined;
  }
}

export function build() {
  return succeeds(process.execPath, 'client/build.mjs');
}
