import { describe, expect, it } from 'vitest';
import { HELP, readArguments } from '../../server/cli/arguments.js';

describe('arguments', () => {
  it('have defaults', () => {
    expect(readArguments(['check', 'app', 'web/live.ts'])).toEqual({
      do: 'check', check: { paths: ['app', 'web/live.ts'], format: 'text', failOn: 'warning', watch: false, coverage: false },
    });
  });

  it('are taken in any order', () => {
    expect(readArguments(['--fail-on', 'hint', 'check', '--coverage', 'app', '--format=sarif'])).toEqual({
      do: 'check', check: { paths: ['app'], format: 'sarif', failOn: 'hint', watch: false, coverage: true },
    });
    expect(readArguments(['check', '--watch', '--', '-odd-name'])).toMatchObject({ do: 'check', check: { paths: ['-odd-name'], watch: true } });
  });

  it('ask for help or the version, whatever else stands there', () => {
    expect(readArguments(['--help'])).toEqual({ do: 'help' });
    expect(readArguments(['check', '-h'])).toEqual({ do: 'help' });
    expect(readArguments(['--version'])).toEqual({ do: 'version' });
  });

  it.each([
    [[], 'Nothing to do: name a command, as in "linkwright check PATH".'],
    [['app'], 'There is no command "app". Did you mean "linkwright check app"?'],
    [['check'], 'Nothing to check: name a file or folder, as in "linkwright check PATH".'],
    [['check', 'app', '--fast'], 'Unknown option \'--fast\'.'],
    [['check', 'app', '--format'], 'Option \'--format <value>\' argument missing.'],
    [['check', 'app', '--format', 'xml'], '--format is text or sarif, not "xml".'],
    [['check', 'app', '--fail-on', 'note'], '--fail-on is error, warning or hint, not "note".'],
    [['check', 'app', '--watch', '--format', 'sarif'], '--watch prints text; a SARIF log is of one run.'],
  ])('that cannot be used are refused with a sentence: %j', (argv, because) => {
    expect(readArguments(argv)).toEqual({ do: 'refuse', because });
  });

  it('are all told in the help', () => {
    for (const option of ['--format text|sarif', '--fail-on error|warning|hint', '--coverage', '--watch', '--help', '--version']) expect(HELP).toContain(option);
    expect(Math.max(...HELP.split('\n').map((line) => line.length))).toBeLessThanOrEqual(80);
  });
});
