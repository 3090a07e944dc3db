/** Puts what the user answered in the place of the names in angle brackets that a fix leaves open. */
import { MADE, type AnyNode, type Name } from '../../ir/ir.js';
import type { Edit, Fix } from '../rule.js';

/** The fix's edits with every placeholder filled: by the answer, or where there is none by the question's initial one. */
export function withAnswers(fix: Fix, answers: Readonly<Record<string, string>>): readonly Edit[] {
  if (fix.asks === undefined || fix.asks.length === 0) return fix.edits;
  const words = new Map<string, string>();
  for (const { placeholder, initial } of fix.asks) {
    const answer = answers[placeholder]?.trim();
    words.set(`<${bare(placeholder)}>`, answer === undefined || answer === '' ? initial : answer);
  }
  return fix.edits.map((edit) => filled(edit, words) as Edit);
}

function bare(placeholder: string): string {
  return placeholder.replace(/^<|>$/g, '');
}

/** Copies what a fix made, as far as a placeholder stands in it; nodes with a place in the source stay the same objects. */
function filled(value: unknown, words: ReadonlyMap<string, string>): unknown {
  if (typeof value === 'string') return words.get(value) ?? inText(value, words);
  if (typeof value !== 'object' || value === null || value instanceof Set || value === MADE) return value;
  if (isNode(value) && value.span.start >= 0) return value;
  if (Array.isArray(value)) return value.map((item) => filled(item, words));
  return Object.fromEntries(Object.entries(value).map(([key, part]) => [key, filled(part, words)]));
}

/** In raw text (around a wrapped node, in a profile) a placeholder stands among other words. */
function inText(text: string, words: ReadonlyMap<string, string>): string {
  let out = text;
  for (const [placeholder, word] of words) out = out.replaceAll(placeholder, word);
  return out;
}

function isNode(value: object): value is AnyNode {
  return 'kind' in value && typeof (value as Name).kind === 'string' && 'span' in value;
}
