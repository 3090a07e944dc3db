/** Texts with places marked in them: `«` and `»` around each, taken out before use. */
import type { Span } from '../../server/ir/ir.js';

export function unmark(marked: string): { readonly text: string; readonly places: readonly Span[] } {
  const places: Span[] = [];
  const open: number[] = [];
  let text = '';
  for (const character of marked) {
    if (character === '«') open.push(text.length);
    else if (character === '»') places.push({ start: open.pop() ?? 0, end: text.length });
    else text += character;
  }
  return { text, places: places.sort((a, b) => a.start - b.start || a.end - b.end) };
}

/** The text with marks at the places, for comparing and for reading in a failed test. */
export function mark(text: string, places: readonly Span[]): string {
  const marks = places.flatMap(({ start, end }) => [{ at: start, mark: '«' }, { at: end, mark: '»' }]);
  return marks.sort((a, b) => b.at - a.at || (a.mark === '»' ? 1 : -1)).reduce((whole, { at, mark: sign }) => whole.slice(0, at) + sign + whole.slice(at), text);
}
