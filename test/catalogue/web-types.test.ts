/** Web Bluetooth's surface against npm `@types/web-bluetooth`: every interface and member, and how each member answers. */
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import ts from 'typescript';
import { describe, expect, it } from 'vitest';
import { aliasedType, membersOf, platformType } from '../../server/catalogue/index.js';
import { root } from './files.js';

const path = join(root, 'node_modules/@types/web-bluetooth/index.d.ts');
const source = ts.createSourceFile(path, readFileSync(path, 'utf8'), ts.ScriptTarget.Latest, true);
const interfaces = source.statements.filter(ts.isInterfaceDeclaration);

const nameOf = (node: ts.TypeElement): string => node.name?.getText().replace(/["']/g, '') ?? '';

describe('every interface of the declarations', () => {
  it.each(interfaces.map((each) => [each.name.text, each] as const))('%s', (name, declared) => {
    const type = platformType('typescript', name);
    expect(type?.kind).toBe('interface');
    const parents = (declared.heritageClauses ?? []).flatMap((clause) => clause.types.map((each) => each.expression.getText()));
    expect(type?.supertypes ?? []).toEqual(parents);
    for (const member of declared.members) {
      const [ours] = membersOf('typescript', name, nameOf(member));
      expect(ours, `${name}.${nameOf(member)}`).toBeDefined();
      if (ts.isMethodSignature(member) && !nameOf(member).endsWith('EventListener')) {
        expect(ours?.params?.map((param) => param.name)).toEqual(member.parameters.map((param) => param.name.getText()));
        expect(ours?.params?.map((param) => param.optional ?? false)).toEqual(member.parameters.map((param) => param.questionToken !== undefined));
      }
      if (ts.isPropertySignature(member)) {
        const mayLack = member.questionToken !== undefined || (member.type !== undefined && /\| undefined$/.test(member.type.getText()));
        if (ours?.kind === 'property') expect(ours.result?.endsWith('?'), `${name}.${nameOf(member)}`).toBe(mayLack);
      }
    }
  });

  it('counts', () => {
    console.info(`Web Bluetooth: ${interfaces.length} interfaces, ${interfaces.reduce((sum, each) => sum + each.members.length, 0)} members`);
    expect(interfaces.length).toBeGreaterThan(20);
  });
});

it('every promise is an answer, and nothing else is one', () => {
  for (const declared of interfaces) {
    for (const member of declared.members.filter(ts.isMethodSignature)) {
      const [ours] = membersOf('typescript', declared.name.text, nameOf(member));
      const promise = member.type?.getText().startsWith('Promise<') === true;
      expect(ours?.answer === 'promise', `${declared.name.text}.${nameOf(member)}`).toBe(promise);
      expect(ours?.result?.startsWith('Promise<') === true).toBe(promise);
    }
  }
});

/** Web Bluetooth, 5: what these interfaces' promises wait for goes over the air. */
it('every promise of the remote GATT objects starts an operation', () => {
  const remote = interfaces.filter((each) => each.name.text.startsWith('BluetoothRemoteGATT') && !each.name.text.endsWith('Map'));
  expect(remote.length).toBe(4);
  for (const declared of remote) {
    for (const member of declared.members.filter(ts.isMethodSignature)) {
      const [ours] = membersOf('typescript', declared.name.text, nameOf(member));
      if (ours?.answer === 'promise') expect(ours.does, nameOf(member)).toContain('starts-operation');
    }
  }
  const [disconnect] = membersOf('typescript', 'BluetoothRemoteGATTServer', 'disconnect');
  expect(disconnect?.does).toEqual(['closes-link', 'disconnects-link']);
});

it('the namespace and the type aliases are there', () => {
  const namespaces = source.statements.filter(ts.isModuleDeclaration);
  for (const namespace of namespaces) {
    for (const statement of (namespace.body as ts.ModuleBlock).statements.filter(ts.isFunctionDeclaration)) {
      expect(membersOf('typescript', namespace.name.text, statement.name!.text)[0]?.static).toBe(true);
    }
  }
  for (const alias of source.statements.filter(ts.isTypeAliasDeclaration)) {
    const name = alias.name.text;
    expect(aliasedType('typescript', name) ?? platformType('typescript', name)?.name, name).toBeDefined();
  }
});
