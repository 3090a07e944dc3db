/**
 * Root of the command line: joins the parts with the machine. What the command does stands in `cli/`.
 */
import { resolve } from 'node:path';
import { setTimeout } from 'node:timers/promises';
import pages from 'linkwright:pages';
import { version } from '../package.json';
import { rules } from '../rules/index.js';
import { HELP, readArguments } from './cli/arguments.js';
import { checkCommand, refuse, type Machine, type Status } from './cli/check-command.js';
import { nodeFiles, watchFolders } from './project/files-node.js';
import { normalPath } from './project/paths.js';

const ended = new AbortController();

const machine: Machine = {
  fs: nodeFiles,
  cwd: normalPath(process.cwd()),
  absolute: (path) => normalPath(resolve(path)),
  out: (text) => process.stdout.write(text),
  err: (text) => process.stderr.write(text),
  isTerminal: process.stderr.isTTY === true,
  now: () => performance.now(),
  pause: () => new Promise((resume) => setImmediate(resume)),
  watch: watchFolders,
  sleep: (milliseconds) => setTimeout(milliseconds),
  ended: ended.signal,
};

async function main(argv: readonly string[]): Promise<Status> {
  const args = readArguments(argv);
  switch (args.do) {
    case 'help':
      machine.out(HELP);
      return 0;
    case 'version':
      machine.out(`${version}\n`);
      return 0;
    case 'refuse':
      return refuse(machine, `${args.because} See "linkwright --help".`);
    case 'check':
      return checkCommand(args.check, machine, { version, rules, pageOf: (id) => pages[id] });
  }
}

process.once('SIGINT', () => ended.abort());
// A reader that has seen enough (`| head`) closes the pipe: that is no error of anybody's.
process.stdout.on('error', (error: NodeJS.ErrnoException) => process.exit(error.code === 'EPIPE' ? 0 : 2));

main(process.argv.slice(2)).then(
  (status) => { process.exitCode = status; },
  (error: unknown) => {
    refuse(machine, `Internal error: ${error instanceof Error ? error.message : String(error)}`);
    process.exitCode = 2;
  },
);
