/** The catalogue's files and the outside things they are held against, for the tests of this folder. */
import { existsSync, readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import ts from 'typescript';
import { parse } from 'yaml';

export const root = new URL('../..', import.meta.url).pathname;
export const catalogueFolder = join(root, 'rules/catalogue');

/** Paths of all data files, relative to the catalogue's folder. */
export function dataFiles(): readonly string[] {
  return readdirSync(catalogueFolder, { recursive: true, encoding: 'utf8' }).filter((path) => path.endsWith('.yaml')).sort();
}

/** A data file as the test reads it, past the bundler's way. */
export function readData(path: string): unknown {
  return parse(readFileSync(join(catalogueFolder, path), 'utf8'), { version: '1.2' });
}

const shared = join(root, '../shared');

/** A file of the folder beside the project, or undefined when it is not there: then the test says so and passes. */
export function sharedFile(path: string): string | undefined {
  const full = join(shared, path);
  if (existsSync(full)) return readFileSync(full, 'utf8');
  console.warn(`not there, so not compared: ../shared/${path}`);
  return undefined;
}

export interface DeclaredMember {
  readonly name: string;
  readonly kind: 'method' | 'constructor' | 'field';
  readonly static: boolean;
  readonly params: readonly string[];
  readonly result: string;
  /** API level from the file's own comment. */
  readonly since?: number;
  /** 0: deprecated, level not given. */
  readonly deprecated?: number;
}

export interface DeclaredClass {
  readonly name: string;
  readonly supertypes: readonly string[];
  readonly members: readonly DeclaredMember[];
}

const typesFolder = join(root, 'node_modules/@nativescript/types-android/lib/android');

/**
 * The classes of a declaration file of `@nativescript/types-android` whose qualified name `wanted` accepts. The file is
 * ten megabytes, one block a class: only blocks of the packages asked for are parsed.
 */
export function declaredClasses(file: string, packages: RegExp, wanted: (name: string) => boolean): ReadonlyMap<string, DeclaredClass> {
  const path = join(typesFolder, file);
  const blocks = readFileSync(path, 'utf8').split(/^(?=declare module )/m).filter((block) => packages.test(packageOf(block)));
  const source = ts.createSourceFile(path, blocks.join(''), ts.ScriptTarget.Latest, true);
  const classes = new Map<string, DeclaredClass>();
  const visit = (node: ts.ModuleDeclaration, outer: string): void => {
    const name = outer + node.name.text;
    if (node.body === undefined) return;
    if (ts.isModuleDeclaration(node.body)) return visit(node.body, `${name}.`);
    if (!ts.isModuleBlock(node.body)) return;
    for (const statement of node.body.statements) {
      if (ts.isModuleDeclaration(statement)) visit(statement, `${name}.`);
      if (!ts.isClassDeclaration(statement) || statement.name === undefined) continue;
      const qualified = `${name}.${statement.name.text}`;
      if (wanted(qualified)) classes.set(qualified, declaredClass(qualified, statement, classes.get(qualified)));
    }
  };
  for (const statement of source.statements) if (ts.isModuleDeclaration(statement)) visit(statement, '');
  return classes;
}

/** `android.bluetooth.` for `declare module android { export module bluetooth { …` */
function packageOf(block: string): string {
  const head = /^declare module (\w+) \{\s*((?:export module \w+ \{\s*)*)/.exec(block);
  const inner = [...(head?.[2] ?? '').matchAll(/export module (\w+)/g)].map((match) => match[1]);
  return [head?.[1], ...inner, ''].join('.');
}

function declaredClass(name: string, node: ts.ClassDeclaration, before?: DeclaredClass): DeclaredClass {
  const supertypes = (node.heritageClauses ?? []).flatMap((clause) => clause.types.map((type) => type.expression.getText().replace('globalAndroid.', 'android.')));
  return { name, supertypes: [...(before?.supertypes ?? []), ...supertypes], members: [...(before?.members ?? []), ...node.members.flatMap(declaredMember)] };
}

function declaredMember(node: ts.ClassElement): DeclaredMember[] {
  const comment = ts.getJSDocCommentsAndTags(node).map((each) => each.getText()).join('\n');
  const since = /@since (\d+)/.exec(comment)?.[1];
  const deprecated = /@deprecated(?: Deprecated in API (\d+))?/.exec(comment);
  const common = {
    static: ts.canHaveModifiers(node) && (ts.getModifiers(node) ?? []).some((modifier) => modifier.kind === ts.SyntaxKind.StaticKeyword),
    ...(since === undefined ? {} : { since: Number(since) }),
    ...(deprecated === null ? {} : { deprecated: Number(deprecated[1] ?? 0) }),
  };
  if (ts.isPropertyDeclaration(node)) return [{ ...common, name: node.name.getText(), kind: 'field', params: [], result: node.type?.getText() ?? 'any' }];
  if (!ts.isMethodDeclaration(node) && !ts.isConstructorDeclaration(node)) return [];
  const params = node.parameters.map((param) => param.type?.getText() ?? 'any');
  const name = ts.isConstructorDeclaration(node) ? 'constructor' : node.name.getText();
  return [{ ...common, name, kind: ts.isConstructorDeclaration(node) ? 'constructor' : 'method', params, result: node.type?.getText() ?? 'void' }];
}
