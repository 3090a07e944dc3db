/**
 * The model against the compiler's own tree, over real sources.
 *
 * Oracle: `typescript` 6.0.3. Its tree, walked with `forEachChild`, says which
 * calls, functions and classes there are; `getLeadingCommentRanges` and
 * `getTrailingCommentRanges` at every token say where the comments are. Both are
 * other ways to the answer than the lowering takes.
 */
import ts from 'typescript';
import { describe, expect, it } from 'vitest';
import { lowerTypeScript } from '../../server/frontend/typescript/index.js';
import { violations } from '../../server/ir/invariants.js';
import { findAll, walk } from '../../server/ir/walk.js';
import { corpus, type Source } from './typescript-corpus.js';

const sources = corpus('all');

const trees = new Map<Source, ts.SourceFile>();

function treeOf(source: Source): ts.SourceFile {
  const known = trees.get(source);
  if (known !== undefined) return known;
  const options = { languageVersion: ts.ScriptTarget.Latest, jsDocParsingMode: ts.JSDocParsingMode.ParseNone };
  const tree = ts.createSourceFile(source.path, source.text, options, true);
  trees.set(source, tree);
  return tree;
}

/** What the model keeps otherwise than as a node of its own: types, decorators, patterns, computed members, the call in `extends f()`. */
function standsApart(node: ts.Node): boolean {
  const { parent } = node;
  if (ts.isTypeNode(node)) return true;
  if (ts.isDecorator(parent)) return true;
  const isComputed = 'name' in node && node.name !== undefined && ts.isComputedPropertyName(node.name as ts.Node);
  if (ts.isFunctionLike(node) && isComputed) return true;
  if (ts.isExpressionWithTypeArguments(parent) && ts.isHeritageClause(parent.parent)) return true;
  return ts.isObjectLiteralExpression(node) && isAssignedPattern(node);
}

function isAssignedPattern(node: ts.Node): boolean {
  const { parent } = node;
  if (ts.isBinaryExpression(parent)) return parent.left === node && parent.operatorToken.kind === ts.SyntaxKind.EqualsToken;
  if (ts.isForOfStatement(parent)) return parent.initializer === node;
  return (ts.isPropertyAssignment(parent) || ts.isArrayLiteralExpression(parent) || ts.isParenthesizedExpression(parent)
    || ts.isObjectLiteralExpression(parent) || ts.isBinaryExpression(parent)) && isAssignedPattern(parent);
}

function kindOf(node: ts.Node): string | undefined {
  if (ts.isCallExpression(node) || ts.isNewExpression(node) || ts.isTaggedTemplateExpression(node)) return 'Call';
  if (ts.isFunctionLike(node)) return ts.isIndexSignatureDeclaration(node) ? undefined : 'Fn';
  if (ts.isClassLike(node) || ts.isInterfaceDeclaration(node) || ts.isEnumDeclaration(node) || ts.isObjectLiteralExpression(node)) return 'Class';
  return undefined;
}

function nodesOfTree(sf: ts.SourceFile): string[] {
  const found: string[] = [];
  const visit = (node: ts.Node): void => {
    if (ts.isTypeNode(node) && !ts.isExpressionWithTypeArguments(node)) return;
    const kind = kindOf(node);
    if (kind !== undefined && !standsApart(node)) found.push(`${kind} ${node.getStart(sf)}..${node.end}`);
    ts.forEachChild(node, visit);
  };
  ts.forEachChild(sf, visit);
  return found;
}

function commentsOfTree(sf: ts.SourceFile): string[] {
  const found = new Set<string>();
  const visit = (node: ts.Node): void => {
    if (node.kind === ts.SyntaxKind.JsxText) return;
    const children = node.getChildren(sf);
    if (children.length > 0) return children.forEach(visit);
    for (const { pos, end } of [...ts.getLeadingCommentRanges(sf.text, node.pos) ?? [], ...ts.getTrailingCommentRanges(sf.text, node.pos) ?? []]) {
      if (end <= node.end) found.add(`${pos}..${end}`);
    }
  };
  visit(sf);
  return [...found].sort((a, b) => parseInt(a, 10) - parseInt(b, 10));
}

describe('the compiler’s own tree', () => {
  it('has the same calls, functions and classes, each once', () => {
    let total = 0;
    const wrong: string[] = [];
    for (const source of sources) {
      const file = lowerTypeScript(source.text, source.path);
      const counts = new Map<string, number>();
      walk(file, (node) => {
        const key = `${node.kind} ${node.span.start}..${node.span.end}`;
        counts.set(key, (counts.get(key) ?? 0) + 1);
      });
      for (const key of nodesOfTree(treeOf(source))) {
        total++;
        if (counts.get(key) !== 1) wrong.push(`${source.path}: ${key} stands ${counts.get(key) ?? 0} times in the model`);
      }
    }
    expect(wrong).toEqual([]);
    expect(sources.length).toBeGreaterThan(800);
    expect(total).toBeGreaterThan(50_000);
  });

  it('has the same comments', () => {
    let total = 0;
    for (const source of sources) {
      const own = lowerTypeScript(source.text, source.path).comments.map(({ start, end }) => `${start}..${end}`);
      total += own.length;
      expect(own, source.path).toEqual(commentsOfTree(treeOf(source)));
    }
    expect(total).toBeGreaterThan(10_000);
  });
});

describe('real sources', () => {
  it('keep the invariants of the model and are read whole', () => {
    const broken: string[] = [];
    for (const { path, text } of sources) {
      const file = lowerTypeScript(text, path);
      broken.push(...violations(file, text.length).map((violation) => `${path}: ${violation}`));
      if (file.unreadable.length > 0) broken.push(`${path}: not all of it could be read`);
    }
    expect(broken).toEqual([]);
  });

  it('the declarations of Web Bluetooth (@types/web-bluetooth 0.0.22) lower with their members', () => {
    const declarations = sources.find(({ path }) => path === 'node_modules/@types/web-bluetooth/index.d.ts');
    expect(declarations).toBeDefined();
    const classes = findAll(lowerTypeScript(declarations!.text, declarations!.path), 'Class');
    const characteristic = classes.find((node) => node.name === 'BluetoothRemoteGATTCharacteristic');
    const write = characteristic?.functions.find((fn) => fn.name === 'writeValueWithResponse');
    expect(write?.params.map((param) => param.type?.name)).toEqual(['bytes']);
    expect([write?.result?.name, write?.result?.args[0]?.name]).toEqual(['Promise', 'void']);
    expect(characteristic?.fields.find((field) => field.name === 'value')?.type).toMatchObject({ name: 'bytes', nullable: true });
  });
});
