/**
 * What the extension says of itself to VS Code agrees with what it does: settings with rules, commands with code, documents
 * with activation, and the starting profile with the reader of profiles.
 */
import { readFileSync } from 'node:fs';
import { expect, it } from 'vitest';
import manifest from '../../package.json' with { type: 'json' };
import { LANGUAGES } from '../../client/documents.js';
import { profileFileName, startingProfile } from '../../client/starting-profile.js';
import { rules } from '../../rules/index.js';
import { acceptanceRules } from '../../server/engine/accepted.js';
import { COMMANDS } from '../../server/lsp/protocol.js';
import { readProfile } from '../../server/profile/read.js';
import { fileKind } from '../../server/project/files.js';

const { contributes } = manifest;

it('offers a setting for every rule, in the manual’s order', () => {
  const settable = Object.keys(contributes.configuration.properties['linkwright.rules'].properties);
  expect(settable).toEqual([...rules, ...acceptanceRules].map(({ id }) => id));
});

it('describes each of them in the rule’s own words', () => {
  const described = Object.values(contributes.configuration.properties['linkwright.rules'].properties).map(({ description }) => description);
  expect(described).toEqual([...rules, ...acceptanceRules].map(({ title }) => `${title}.`));
});

it('puts into the palette the commands that stand by themselves', () => {
  const offered = contributes.commands.map(({ command }) => command);
  expect(offered).toEqual([COMMANDS.checkWorkspace, COMMANDS.createProfile, COMMANDS.restart]);
  expect(new Set(contributes.commands.map(({ category }) => category))).toEqual(new Set(['Linkwright']));
});

it('starts with the languages that it reads, and beside a device profile', () => {
  expect(manifest.activationEvents).toEqual([...LANGUAGES.map((language) => `onLanguage:${language}`), 'workspaceContains:**/*.device.{yaml,yml}']);
});

it('runs beside the files, as a remote editor needs it', () => {
  expect(manifest.extensionKind).toEqual(['workspace']);
});

/** PNG, 2nd edition, 11.2.2: width and height are the first two words of the IHDR chunk. Marketplace rule: at least 128 × 128. */
it('has an icon of 128 × 128 pixels', () => {
  const icon = readFileSync(new URL(`../../${manifest.icon}`, import.meta.url));
  expect([icon.toString('latin1', 1, 4), icon.readUInt32BE(16), icon.readUInt32BE(20)]).toEqual(['PNG', 128, 128]);
});

it('names a new profile so that it is one', () => {
  expect(['Hive scale', '  Bee & Co. #2 ', 'Waage für Bienen', '…'].map(profileFileName))
    .toEqual(['hive-scale.device.yaml', 'bee-co-2.device.yaml', 'waage-für-bienen.device.yaml', 'device.device.yaml']);
  expect(fileKind(profileFileName('Hive scale'))).toBe('profile');
});

it('starts a profile in which nothing is wrong, whatever the device is called', () => {
  for (const name of ['Hive scale', 'the "small" one: 2', '#1']) {
    const { profile, problems } = readProfile(startingProfile(name), '/app/x.device.yaml');
    expect(problems).toEqual([]);
    expect(profile?.device.name?.value).toBe(name);
  }
});

it('shows in it only lines that are right once they are taken out of their comments', () => {
  const taken = startingProfile('Hive scale').split('\n').map((line) => line.replace(/^# ( *)(?=[a-z_]+:( |$)|- )/, '$1')).join('\n');
  const { profile, problems } = readProfile(taken, '/app/x.device.yaml');
  expect(problems).toEqual([]);
  expect(profile?.targets.android?.minimum?.value).toBe(26);
  expect(profile?.link.negotiatedMtu?.value).toBe(185);
  expect(profile?.services[0]?.characteristics[0]?.size).toMatchObject({ minimum: 1, maximum: 1 });
  expect([profile?.queue, profile?.teardown].map((list) => list?.functions.map((fn) => fn.name))).toEqual([['OperationQueue.enqueue'], ['DeviceLink.close']]);
});
