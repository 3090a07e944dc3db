/** The command line as people run it: the bundle alone, as a program, on files on disk. */
import { spawn, spawnSync, type ChildProcess } from 'node:child_process';
import { accessSync, constants, mkdirSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { afterAll, beforeAll, describe, expect, it, onTestFinished } from 'vitest';
import { bundle } from '../../client/build.mjs';

const FAULTY = `package app.hive

import android.bluetooth.BluetoothGatt
import android.bluetooth.BluetoothGattCharacteristic

class HiveLink(private val gatt: BluetoothGatt) {
    fun refresh(weight: BluetoothGattCharacteristic) {
        gatt.readCharacteristic(weight)
    }
}
`;

describe('the program', () => {
  let folder: string;
  let program: string;

  beforeAll(async () => {
    folder = mkdtempSync(join(tmpdir(), 'linkwright-program-'));
    mkdirSync(join(folder, 'app'));
    writeFileSync(join(folder, 'app/HiveLink.kt'), FAULTY);
    mkdirSync(join(folder, 'fine'));
    writeFileSync(join(folder, 'fine/Fine.kt'), 'package app.hive\n\nfun weigh(): Int = 47\n');
    program = await bundle('cli', join(folder, 'bin'));
  });
  afterAll(() => rmSync(folder, { recursive: true }));

  const run = (...args: string[]) => spawnSync(program, args, { cwd: folder, encoding: 'utf8', maxBuffer: 1 << 28 });

  it('is executable, begins with its interpreter and needs nothing beside it', () => {
    accessSync(program, constants.X_OK);
    expect(readFileSync(program, 'utf8').startsWith('#!/usr/bin/env node\n')).toBe(true);
    const { version } = JSON.parse(readFileSync(fileURLToPath(new URL('../../package.json', import.meta.url)), 'utf8')) as { version: string };
    expect(run('--version')).toMatchObject({ stdout: `${version}\n`, stderr: '', status: 0 });
    expect(run('--help').stdout).toMatch(/^Usage: linkwright check PATH… \[options\]\n/);
  });

  it('prints findings and ends with status 1', () => {
    const { stdout, stderr, status } = run('check', 'app');
    expect([stderr, status]).toEqual(['', 1]);
    expect(stdout).toMatch(/^app\/HiveLink\.kt:8:14: warning: .+ \[start-result-unchecked\]$/m);
  });

  it('ends with status 0 where there is nothing to say', () => {
    expect(run('check', 'fine')).toMatchObject({ stderr: '', status: 0 });
  });

  it.each([
    [['check', 'nowhere'], 'linkwright: There is no file or folder nowhere.\n'],
    [['check', 'app', '--quick'], 'linkwright: Unknown option \'--quick\'. See "linkwright --help".\n'],
    [['check', 'bin/cli.js.LEGAL.txt'], 'linkwright: bin/cli.js.LEGAL.txt is no Kotlin or TypeScript source and no device profile.\n'],
  ])('refuses %j with one sentence, status 2 and no stack trace', (args, sentence) => {
    expect(run(...args)).toMatchObject({ stdout: '', stderr: sentence, status: 2 });
  });

  it('writes a SARIF log that is whole, however long it is', () => {
    const { stdout } = run('check', 'app', '--format', 'sarif', '--coverage');
    const log = JSON.parse(stdout) as { runs: [{ results: { ruleId: string }[]; properties: { coverage: { operations: Record<string, number> } } }] };
    expect(log.runs[0].results.map((result) => result.ruleId)).toContain('start-result-unchecked');
    const { known, unknown } = log.runs[0].properties.coverage.operations;
    expect(known! + unknown!).toBe(1);
  });

  it('ends quietly when its reader has seen enough', () => {
    const { stderr } = spawnSync('bash', ['-c', `"${program}" check app --format sarif | head -c 10; exit 0`], { cwd: folder, encoding: 'utf8' });
    expect(stderr).toBe('');
  });

  it('goes on watching until it is interrupted, with the status of the last check', async () => {
    const child = spawn(program, ['check', 'app', '--watch'], { cwd: folder });
    onTestFinished(() => { child.kill('SIGKILL'); });
    const said = new Said(child);
    await said.until(/1 warning.* in 1 file\.[\s\S]*Watching app; end with Ctrl\+C\.\n$/);
    writeFileSync(join(folder, 'app/HiveLink.kt'), FAULTY.replace('gatt.readCharacteristic(weight)', ''));
    await said.until(/No findings in 1 file\.[\s\S]*Watching app; end with Ctrl\+C\.\n$/);
    const ended = new Promise((resolve) => child.on('exit', resolve));
    child.kill('SIGINT');
    expect(await ended).toBe(0);
  });
});

/** What a program has printed on both outputs, and when it has printed something. */
class Said {
  private text = '';
  private listener = (): void => {};

  constructor(child: ChildProcess) {
    for (const stream of [child.stdout, child.stderr]) {
      stream!.setEncoding('utf8').on('data', (text: string) => {
        this.text += text;
        this.listener();
      });
    }
  }

  until(pattern: RegExp): Promise<void> {
    return new Promise((resolve) => {
      this.listener = () => {
        if (pattern.test(this.text)) resolve();
      };
      this.listener();
    });
  }
}
