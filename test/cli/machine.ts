import { checkCommand, type Machine, type Status } from '../../server/cli/check-command.js';
import type { CheckArguments } from '../../server/cli/arguments.js';
import { rule, type Severity } from '../../server/engine/rule.js';
import { memoryFiles } from '../project/memory-files.js';

/** Reports every `fault()`, `oops()` and `slip()` as an error, a warning and a hint; gives way at `throw now`. */
const words = rule({
  id: 'word', title: 'A word', harm: 'It is there.', severity: 'warning', sources: [],
  check(facts, report) {
    if (facts.text.includes('throw now')) throw new Error('gave way');
    const severities: Record<string, Severity> = { fault: 'error', oops: 'warning', slip: 'hint' };
    for (const { 0: call, 1: word = '', index } of facts.text.matchAll(/(fault|oops|slip)\(\)/g)) {
      report({ at: { start: index, end: index + call.length }, message: `Found ${word}`, severity: severities[word]! });
    }
  },
});

/** A machine with these files, which keeps what is printed. */
export class FakeMachine implements Machine {
  printed = '';
  said = '';
  cwd = '/work';
  isTerminal = false;
  time = 0;
  readonly end = new AbortController();
  onChange: ((path: string) => void) | undefined;
  watched: readonly string[] = [];

  constructor(readonly texts: Record<string, string>) {}

  // The files change while a watch goes on, so they are looked at anew each time.
  get fs() { return memoryFiles(this.texts); }
  get ended() { return this.end.signal; }
  absolute = (path: string): string => (path.startsWith('/') ? path : path === '.' ? this.cwd : `${this.cwd}/${path}`);
  out = (text: string): void => { this.printed += text; };
  err = (text: string): void => { this.said += text; };
  now = (): number => (this.time += 400);
  pause = async (): Promise<void> => {};
  sleep = async (): Promise<void> => {};
  watch = (folders: Iterable<string>, onChange: (path: string) => void): void => {
    this.watched = [...folders];
    this.onChange = onChange;
  };

  check(paths: readonly string[], more: Partial<CheckArguments> = {}): Promise<Status> {
    const args = { paths, format: 'text', failOn: 'warning', watch: false, coverage: false, ...more } as const;
    return checkCommand(args, this, { version: '1.2.3', rules: [words], pageOf: (id) => (id === 'word' ? '# A word\n' : undefined) });
  }
}
