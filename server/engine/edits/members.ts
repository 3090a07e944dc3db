/** A new member of a class, or a new declaration beside another. */
import type { Declaration, Fn, Span } from '../../ir/ir.js';
import type { Target, TextEdit } from '../edits.js';
import { insertion } from './blocks.js';
import { behindPrevious, indentOf, lineEnd } from './text.js';

/** Behind a function, after an empty line; or at the end of the class whose span is given. */
export function memberEdits(target: Target, after: Fn | Span, declaration: Declaration): TextEdit[] {
  return 'kind' in after ? behindFunction(target, after, declaration) : atEndOfClass(target, after, declaration);
}

function behindFunction(target: Target, fn: Fn, declaration: Declaration): TextEdit[] {
  target.around(fn);
  const { text, style } = target;
  const indent = indentOf(text, fn.span.start);
  return [insertion(lineEnd(text, fn.span.end), style.eol.repeat(2) + indent + target.write(declaration, indent))];
}

function atEndOfClass(target: Target, span: Span, declaration: Declaration): TextEdit[] {
  const { text, style } = target;
  const outer = indentOf(text, span.start);
  const inner = outer + style.unit;
  const member = inner + target.write(declaration, inner);
  // A Kotlin class may have no body at all.
  if (text[span.end - 1] !== '}') return [insertion(span.end, ` {${style.eol}${member}${style.eol}${outer}}`)];
  const close = span.end - 1;
  const behind = behindPrevious(text, close);
  const gap = text[behind - 1] === '{' ? style.eol : style.eol.repeat(2);
  return [{ at: { start: behind, end: close }, text: gap + member + style.eol + outer }];
}
