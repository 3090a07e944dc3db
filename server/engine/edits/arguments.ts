/** One more argument in a call. */
import type { Call, Expr } from '../../ir/ir.js';
import { Refused, type Target, type TextEdit } from '../edits.js';
import { insertion } from './blocks.js';
import { behindPrevious, indentOf, signAfter } from './text.js';

/** At `index`, before the argument that stands there now; a lambda behind the parentheses stays behind them. */
export function argumentEdits(target: Target, call: Call, index: number, name: string | undefined, value: Expr): TextEdit[] {
  target.around(call);
  const { text, file, write } = target;
  const separator = file.language === 'kotlin' ? ' = ' : undefined;
  if (name !== undefined && separator === undefined) throw new Refused('TypeScript has no named arguments');
  const written = (name === undefined ? '' : name + separator) + write(value, indentOf(text, call.span.start));
  const inside = call.args.filter((arg) => arg.trailing !== true);
  if (index > inside.length) throw new Refused('the arguments before it are missing');
  const next = inside[index]?.value;
  // A named or spread argument begins before its value, so the place behind its predecessor is the sure one.
  const previous = inside[index - 1]?.value;
  if (previous !== undefined) return [insertion(previous.span.end, `, ${written}`)];
  const open = openParenthesis(target, call);
  if (open === undefined) {
    if (call.args.length === 0) throw new Refused('the call has no parentheses');
    return [insertion(behindPrevious(text, call.args[0]!.value.span.start), `(${written})`)];
  }
  return [insertion(open + 1, next === undefined ? written : `${written}, `)];
}

/** The call's opening parenthesis: behind the callee and its type arguments. */
function openParenthesis({ text, file }: Target, call: Call): number | undefined {
  const types = call.typeArgs.at(-1);
  const behindTypes = types === undefined ? undefined : signAfter(text, types.span.end, '>', file.comments);
  const from = behindTypes === undefined ? call.callee.span.end : behindTypes + 1;
  const optional = signAfter(text, from, '?.', file.comments);
  return signAfter(text, optional === undefined ? from : optional + 2, '(', file.comments);
}
