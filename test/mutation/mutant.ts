/**
 * A mutant: an app with one fault planted in its text, and what the checker owes it. Places are given in the text as it was,
 * or marked in the text that is put in; `judge.ts` looks them up in the text as it has become.
 */
import type { Span } from '../../server/ir/ir.js';

export type RuleId = 'start-result-unchecked' | 'status-unchecked' | 'operation-outside-queue' | 'link-not-closed' | 'notify-over-limit';

/** Stands in an edit's text before what a finding must point at; taken out when the edit is made. */
export const MARK = '\u0001';

export interface Edit {
  readonly path: string;
  /** An empty range is an insertion. */
  readonly at: Span;
  readonly text: string;
}

/** Any line of a span of the text as it was. */
export interface Place {
  readonly path: string;
  readonly at: Span;
}

export interface Mutant {
  readonly app: string;
  readonly operator: string;
  /** Where the fault is planted. */
  readonly path: string;
  readonly edits: readonly Edit[];
  readonly rule: RuleId;
  /** Where the rule may stand, beside the marks in the edits. One finding there suffices. */
  readonly places: readonly Place[];
  /** The lowest level that will do: a hint where the fault makes a collision possible, but proves none. */
  readonly level: 'warning' | 'hint';
  /** What the same fault also is, by another rule: reported rightly, but not asked for. */
  readonly also: readonly { readonly rule: RuleId; readonly places: readonly Place[] }[];
  /** Why nothing is wrong all the same. Such a mutant must stay silent. */
  readonly equivalent?: string;
}

/** What an operator says of one place; the rest of the mutant is the same for all of them. */
export interface Planted {
  readonly edits: readonly Edit[];
  readonly places?: readonly Place[];
  readonly rule?: RuleId;
  readonly level?: 'warning' | 'hint';
  readonly also?: Mutant['also'] | undefined;
  readonly equivalent?: string | undefined;
}

export interface Changed {
  /** Texts that the edits touched, without marks. */
  readonly texts: ReadonlyMap<string, string>;
  /** `path:line` of each mark. */
  readonly marks: readonly string[];
  /** The lines, from 1, of a place of the text as it was. */
  linesOf(place: Place): readonly string[];
}

/** Makes the edits; those of one file must not overlap. */
export function changedBy(edits: readonly Edit[], textOf: (path: string) => string): Changed {
  const texts = new Map<string, string>();
  const marks: string[] = [];
  for (const path of new Set(edits.map((edit) => edit.path))) {
    let out = '';
    let from = 0;
    for (const edit of inOrder(edits, path)) {
      out += textOf(path).slice(from, edit.at.start) + edit.text;
      from = edit.at.end;
    }
    out += textOf(path).slice(from);
    for (let at = out.indexOf(MARK); at >= 0; at = out.indexOf(MARK, at)) {
      out = out.slice(0, at) + out.slice(at + MARK.length);
      marks.push(`${path}:${lineAt(out, at)}`);
    }
    texts.set(path, out);
  }
  return {
    texts, marks,
    linesOf({ path, at }) {
      const text = texts.get(path) ?? textOf(path);
      const [first, last] = [at.start, Math.max(at.start, at.end - 1)].map((offset) => lineAt(text, moved(offset, inOrder(edits, path))));
      return Array.from({ length: last! - first! + 1 }, (_, i) => `${path}:${first! + i}`);
    },
  };
}

function inOrder(edits: readonly Edit[], path: string): Edit[] {
  return edits.filter((edit) => edit.path === path).sort((a, b) => a.at.start - b.at.start);
}

/** Where an offset lies after the edits; inside a replaced range, as far into what replaced it. */
function moved(offset: number, edits: readonly Edit[]): number {
  let shift = 0;
  for (const { at, text } of edits) {
    const length = text.replaceAll(MARK, '').length;
    if (offset >= at.end) shift += length - (at.end - at.start);
    else if (offset >= at.start) return at.start + shift + Math.min(offset - at.start, length);
  }
  return offset + shift;
}

export function lineAt(text: string, offset: number): number {
  return text.slice(0, offset).split('\n').length;
}
