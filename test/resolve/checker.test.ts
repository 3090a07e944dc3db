/**
 * The receivers of Web Bluetooth calls, held against the TypeScript compiler's own checker with `@types/web-bluetooth`
 * (both from npm): whatever the checker calls a Web Bluetooth object, the resolver does too, and nothing else.
 */
import ts from 'typescript';
import { describe, expect, it } from 'vitest';
import { lowerTypeScript } from '../../server/frontend/typescript/index.js';
import { walk } from '../../server/ir/walk.js';
import { link, resolver } from '../../server/resolve/index.js';
import { readCases } from './marks.js';

const samples = readCases(new URL('web-samples.md', import.meta.url)).map(({ title, files }, i) => ({ title, path: `sample${i}.ts`, text: files[0]!.text }));

const program = checkedProgram(new Map(samples.map(({ path, text }) => [path, text])));

describe('receivers agree with the compiler’s checker', () => {
  for (const { title, path, text } of samples) {
    it(title, () => {
      const source = program.getSourceFile(path)!;
      expect(ts.getPreEmitDiagnostics(program, source).map(({ messageText }) => ts.flattenDiagnosticMessageText(messageText, '\n'))).toEqual([]);
      const theirs = checkerReceivers(source);
      expect(theirs.filter((line) => !line.endsWith(': -')).length).toBeGreaterThan(3);
      expect(resolvedReceivers(path, text)).toEqual(theirs);
    });
  }
});

it('compares a good number of calls', () => {
  const count = samples.flatMap(({ path }) => checkerReceivers(program.getSourceFile(path)!)).filter((line) => !line.endsWith(': -')).length;
  console.log(`${count} Web Bluetooth calls in ${samples.length} samples`);
  expect(count).toBeGreaterThanOrEqual(120);
});

function checkedProgram(texts: ReadonlyMap<string, string>): ts.Program {
  const options: ts.CompilerOptions = {
    target: ts.ScriptTarget.ES2022, module: ts.ModuleKind.ESNext, moduleResolution: ts.ModuleResolutionKind.Bundler,
    lib: ['lib.es2023.d.ts', 'lib.dom.d.ts', 'lib.dom.iterable.d.ts'],
    types: ['web-bluetooth'], strict: true, noUncheckedIndexedAccess: true, noEmit: true, skipLibCheck: true,
  };
  const host = ts.createCompilerHost(options);
  const { getSourceFile, fileExists, readFile } = host;
  host.getSourceFile = (name, version) => (texts.has(name) ? ts.createSourceFile(name, texts.get(name)!, version, true) : getSourceFile(name, version));
  host.fileExists = (name) => texts.has(name) || fileExists(name);
  host.readFile = (name) => texts.get(name) ?? readFile(name);
  return ts.createProgram([...texts.keys()], options, host);
}

/** One line for each method call: place, method and the Web Bluetooth type it is called on (`-` for any other). */
function checkerReceivers(source: ts.SourceFile): string[] {
  const checker = program.getTypeChecker();
  const lines: string[] = [];
  const visit = (node: ts.Node): void => {
    if (ts.isCallExpression(node) && ts.isPropertyAccessExpression(node.expression)) {
      const type = checker.getNonNullableType(checker.getTypeAtLocation(node.expression.expression));
      const names = (type.isUnion() ? type.types : type.isIntersection() ? type.types : [type]).flatMap(webBluetoothName);
      lines.push(`${node.expression.name.getStart(source)} ${node.expression.name.text}: ${[...new Set(names)].sort().join(' | ') || '-'}`);
    }
    ts.forEachChild(node, visit);
  };
  visit(source);
  return lines.sort(byOffset);
}

function webBluetoothName(type: ts.Type): string[] {
  const isOurs = type.symbol?.declarations?.some((declaration) => declaration.getSourceFile().fileName.includes('web-bluetooth')) ?? false;
  return isOurs && /^Bluetooth/.test(type.symbol.name) ? [type.symbol.name] : [];
}

function resolvedReceivers(path: string, text: string): string[] {
  const file = lowerTypeScript(text, path);
  const asked = resolver(link([file]));
  const lines: string[] = [];
  walk(file, (node) => {
    if (node.kind !== 'Call' || node.callee.kind !== 'Member') return;
    const type = asked.typeOf(node.callee.object);
    const names = (type?.union ?? (type === undefined ? [] : [type])).flatMap((each) => each.platform?.name ?? []).filter((name) => /^Bluetooth/.test(name));
    lines.push(`${node.callee.nameSpan.start} ${node.callee.name}: ${[...new Set(names)].sort().join(' | ') || '-'}`);
  });
  return lines.sort(byOffset);
}

function byOffset(a: string, b: string): number {
  return Number.parseInt(a, 10) - Number.parseInt(b, 10);
}
