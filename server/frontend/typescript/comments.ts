/**
 * Where the comments of a file are.
 *
 * Each `//` and `/*` of the text is looked up in the tree: it opens a comment
 * unless it stands inside a token (a string, a template, a regular expression, the
 * text of JSX). The candidates come in order, so the way down to the last one is
 * kept, and a file is gone over once, and only where it has candidates.
 */
import ts from 'typescript';
import type { Span } from '../../ir/ir.js';
import { blockCommentEnd, lineEnd } from './context.js';

export function commentsOf(sf: ts.SourceFile): Span[] {
  const { text } = sf;
  const comments: Span[] = [];
  const isInsideToken = tokenFinder(sf);
  for (let at = nextOpening(text, 0); at >= 0;) {
    if (isInsideToken(at)) {
      at = nextOpening(text, at + 1);
      continue;
    }
    const end = text.charAt(at + 1) === '/' ? lineEnd(text, at) : blockCommentEnd(text, at);
    comments.push({ start: at, end });
    at = nextOpening(text, end);
  }
  return comments;
}

function nextOpening(text: string, from: number): number {
  for (let at = text.indexOf('/', from); at >= 0; at = text.indexOf('/', at + 1)) {
    const next = text.charAt(at + 1);
    if (next === '/' || next === '*') return at;
  }
  return -1;
}

/** One step of the way down: a node, its children in order, and how far among them the search has come. */
interface Step {
  readonly node: ts.Node;
  readonly children: readonly ts.Node[];
  next: number;
}

/** Answers for rising offsets whether each stands inside a token rather than between tokens. */
function tokenFinder(sf: ts.SourceFile): (offset: number) => boolean {
  const way: Step[] = [stepInto(sf)];
  return (offset) => {
    while (way.length > 1 && way.at(-1)!.node.end <= offset) way.pop();
    for (;;) {
      const step = way.at(-1)!;
      while (step.next < step.children.length && step.children[step.next]!.end <= offset) step.next++;
      const child = step.children[step.next];
      if (child === undefined || offset < child.pos) return false;
      if (child.kind === ts.SyntaxKind.JsxText) return true;
      if (offset < child.getStart(sf)) return false;
      const below = stepInto(child);
      if (below.children.length === 0) return isOpaque(child);
      way.push(below);
    }
  };
}

function stepInto(node: ts.Node): Step {
  const children: ts.Node[] = [];
  ts.forEachChild(node, (child) => { children.push(child); });
  return { node, children, next: 0 };
}

/** Nodes without children that are no tokens (`{ }`, `[ ]`, `debugger`) may well hold a comment. */
function isOpaque(node: ts.Node): boolean {
  return node.kind <= ts.SyntaxKind.LastToken;
}
