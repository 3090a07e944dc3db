/**
 * JSX as calls: the tag is the callee, the first argument an object of the
 * attributes, then the children. White space between children is left out.
 */
import ts from 'typescript';
import type { Argument, Call, Class, Expr, Field } from '../../ir/ir.js';
import { spanOf, textOf, type Lowering } from './context.js';
import { lowerExpr } from './expressions.js';
import { emptyClass } from './classes.js';
import { lowerTypes } from './types.js';

export function lowerMarkup(cx: Lowering, node: ts.JsxElement | ts.JsxSelfClosingElement | ts.JsxFragment): Call {
  if (ts.isJsxFragment(node)) return lowerFragment(cx, node);
  const opening = ts.isJsxElement(node) ? node.openingElement : node;
  const children = ts.isJsxElement(node) ? lowerChildren(cx, node.children) : [];
  return {
    kind: 'Call', span: spanOf(cx, node), callee: lowerTag(cx, opening.tagName), typeArgs: lowerTypes(cx, opening.typeArguments), markup: true,
    args: [{ value: { kind: 'ObjectExpr', span: spanOf(cx, opening.attributes), body: lowerAttributes(cx, opening.attributes) } }, ...children],
  };
}

function lowerFragment(cx: Lowering, node: ts.JsxFragment): Call {
  const at = { start: node.openingFragment.end, end: node.openingFragment.end };
  return {
    kind: 'Call', span: spanOf(cx, node), callee: { kind: 'Name', span: spanOf(cx, node.openingFragment), name: '' }, typeArgs: [], markup: true,
    args: [{ value: { kind: 'ObjectExpr', span: at, body: emptyClass('anonymous', at) } }, ...lowerChildren(cx, node.children)],
  };
}

function lowerTag(cx: Lowering, tag: ts.JsxTagNameExpression): Expr {
  if (ts.isJsxNamespacedName(tag)) return { kind: 'Name', span: spanOf(cx, tag), name: textOf(cx, tag) };
  return lowerExpr(cx, tag);
}

function lowerAttributes(cx: Lowering, attributes: ts.JsxAttributes): Class {
  const fields: Field[] = [];
  const spreads: Expr[] = [];
  for (const attribute of attributes.properties) {
    if (ts.isJsxSpreadAttribute(attribute)) spreads.push(lowerExpr(cx, attribute.expression));
    else fields.push(lowerAttribute(cx, attribute));
  }
  return { ...emptyClass('anonymous', spanOf(cx, attributes)), fields, spreads };
}

function lowerAttribute(cx: Lowering, attribute: ts.JsxAttribute): Field {
  const span = spanOf(cx, attribute);
  const initial = lowerAttributeValue(cx, attribute);
  return {
    kind: 'Field', span, name: textOf(cx, attribute.name), nameSpan: spanOf(cx, attribute.name), mutable: false, static: false,
    modifiers: new Set(), annotations: [], ...(initial && { initial }),
  };
}

/** `<input disabled />` means true; `{}` holds nothing. */
function lowerAttributeValue(cx: Lowering, { initializer, end }: ts.JsxAttribute): Expr | undefined {
  if (initializer === undefined) return { kind: 'Literal', span: { start: end, end }, value: true };
  const value = ts.isJsxExpression(initializer) ? initializer.expression : initializer;
  return value && lowerExpr(cx, value);
}

function lowerChildren(cx: Lowering, nodes: readonly ts.JsxChild[]): Argument[] {
  const args: Argument[] = [];
  for (const node of nodes) {
    if (ts.isJsxText(node)) {
      if (!node.containsOnlyTriviaWhiteSpaces) args.push({ value: { kind: 'Literal', span: { start: node.pos, end: node.end }, value: node.text.trim() } });
    } else if (!ts.isJsxExpression(node)) {
      args.push({ value: lowerMarkup(cx, node) });
    } else if (node.expression !== undefined) {
      args.push({ value: lowerExpr(cx, node.expression), ...(node.dotDotDotToken && { spread: true }) });
    }
  }
  return args;
}
