/** What the user typed, read: pure, with a sentence for whatever cannot be used. */
import { parseArgs } from 'node:util';
import { isSeverity } from '../engine/settings.js';
import type { Severity } from '../engine/rule.js';

export interface CheckArguments {
  /** As typed; at least one. */
  readonly paths: readonly string[];
  readonly format: 'text' | 'sarif';
  readonly failOn: Severity;
  readonly watch: boolean;
  readonly coverage: boolean;
}

export type Arguments =
  | { readonly do: 'check'; readonly check: CheckArguments }
  | { readonly do: 'help' }
  | { readonly do: 'version' }
  /** The sentence for the user. */
  | { readonly do: 'refuse'; readonly because: string };

export const HELP = `Usage: linkwright check PATH… [options]

Checks Bluetooth Low Energy application code, Kotlin on android.bluetooth and
TypeScript on Web Bluetooth, against the device profile (*.device.yaml) that is
nearest upward from each source. A folder is checked whole; a single file is
read along with its project, as its helpers decide about it.

Options:
  --format text|sarif           text for people (default), or SARIF 2.1.0
  --fail-on error|warning|hint  the least severity that makes the exit status 1;
                                warning unless stated
  --coverage                    also say what was recognised and what was not
  --watch                       go on, and check again whenever a file changes
  --help                        this text
  --version                     the version

Exit status:
  0  nothing at or above that severity
  1  findings
  2  the input cannot be used, or not all of it could be checked

A finding is accepted by a comment above its line, with a reason:
  // linkwright accepts RULE: REASON
`;

const OPTIONS = {
  format: { type: 'string' },
  'fail-on': { type: 'string' },
  coverage: { type: 'boolean' },
  watch: { type: 'boolean' },
  help: { type: 'boolean', short: 'h' },
  version: { type: 'boolean' },
} as const;

/** @param argv without the interpreter and the script */
export function readArguments(argv: readonly string[]): Arguments {
  const read = parsed(argv);
  if ('because' in read) return { do: 'refuse', because: read.because };
  const { values, positionals: [command, ...paths] } = read;
  if (values.help === true) return { do: 'help' };
  if (values.version === true) return { do: 'version' };
  const because = refusal(command, paths, values);
  if (because !== undefined) return { do: 'refuse', because };
  return {
    do: 'check',
    check: {
      paths,
      format: values.format === 'sarif' ? 'sarif' : 'text',
      failOn: isSeverity(values['fail-on']) ? values['fail-on'] : 'warning',
      watch: values.watch === true,
      coverage: values.coverage === true,
    },
  };
}

function parsed(argv: readonly string[]) {
  try {
    return parseArgs({ args: [...argv], options: OPTIONS, allowPositionals: true });
  } catch (thrown) {
    const [sentence = ''] = (thrown as Error).message.split('. ');
    return { because: `${sentence.replace(/\.$/, '')}.` };
  }
}

function refusal(command: string | undefined, paths: readonly string[], values: { format?: string; 'fail-on'?: string; watch?: boolean }): string | undefined {
  if (command === undefined) return 'Nothing to do: name a command, as in "linkwright check PATH".';
  if (command !== 'check') return `There is no command "${command}". Did you mean "linkwright check ${command}"?`;
  if (paths.length === 0) return 'Nothing to check: name a file or folder, as in "linkwright check PATH".';
  if (values.format !== undefined && values.format !== 'text' && values.format !== 'sarif') return `--format is text or sarif, not "${values.format}".`;
  if (values['fail-on'] !== undefined && !isSeverity(values['fail-on'])) return `--fail-on is error, warning or hint, not "${values['fail-on']}".`;
  if (values.watch === true && values.format === 'sarif') return '--watch prints text; a SARIF log is of one run.';
  return undefined;
}
