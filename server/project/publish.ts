/**
 * What is sent to an editor, and when: one pure function from what happened to what is sent.
 *
 * Findings must neither flash nor outlive their text. So nothing is cleared while a check is under way or when one is
 * cancelled; a result counts only if it belongs to the current run and to the version the editor shows; and equal
 * findings for an equal version are not sent twice.
 */
import type { Finding } from '../engine/rule.js';

export interface Publication {
  readonly path: string;
  /** Version of the open document that was checked; absent for a file that no editor holds. */
  readonly version?: number;
  /** The text that was checked: the findings' places are offsets in it. */
  readonly text: string;
  readonly findings: readonly Finding[];
}

export type Event =
  /** A run over some files began; results of every other run are void from now on. */
  | { readonly is: 'started'; readonly run: number }
  | { readonly is: 'cancelled'; readonly run: number }
  | { readonly is: 'edited'; readonly path: string; readonly version: number }
  /** The editor let go of it; `stays` when the project goes on checking the file on disk. */
  | { readonly is: 'closed'; readonly path: string; readonly stays: boolean }
  /** The file is no longer part of the project. */
  | { readonly is: 'gone'; readonly path: string }
  | { readonly is: 'checked'; readonly run: number; readonly result: Publication };

export interface Published {
  readonly run: number | undefined;
  /** Versions of the documents that the editor holds. */
  readonly open: ReadonlyMap<string, number>;
  /** What the editor shows now, file by file; nothing for a file on disk without findings. */
  readonly shown: ReadonlyMap<string, Publication>;
}

export const nothingPublished: Published = { run: undefined, open: new Map(), shown: new Map() };

export function publish(state: Published, event: Event): { readonly state: Published; readonly send: readonly Publication[] } {
  switch (event.is) {
    case 'started':
      return { state: { ...state, run: event.run }, send: [] };
    case 'cancelled':
      return { state: state.run === event.run ? { ...state, run: undefined } : state, send: [] };
    case 'edited':
      // The editor moves the marks along with the text; the next result puts them right.
      return { state: { ...state, open: added(state.open, event.path, event.version) }, send: [] };
    case 'closed': {
      const closed = { ...state, open: without(state.open, event.path) };
      return event.stays ? { state: closed, send: [] } : cleared(closed, event.path);
    }
    case 'gone':
      return cleared(state, event.path);
    case 'checked':
      return event.run === state.run ? shown(state, event.result) : { state, send: [] };
  }
}

function cleared(state: Published, path: string): { state: Published; send: Publication[] } {
  const before = state.shown.get(path);
  if (before === undefined) return { state, send: [] };
  const version = state.open.get(path);
  const empty = { path, text: before.text, findings: [], ...(version !== undefined && { version }) };
  return { state: { ...state, shown: without(state.shown, path) }, send: before.findings.length > 0 ? [empty] : [] };
}

function shown(state: Published, result: Publication): { state: Published; send: Publication[] } {
  const { path, version } = result;
  if (state.open.get(path) !== version) return { state, send: [] };
  const before = state.shown.get(path);
  const isShown = result.findings.length > 0 || version !== undefined;
  // Most files of a project have nothing to show: they must cost nothing here.
  if (before === undefined && !isShown) return { state, send: [] };
  const isNews = before === undefined || before.version !== version || before.text !== result.text || !sameFindings(before.findings, result.findings);
  return { state: { ...state, shown: isShown ? added(state.shown, path, result) : without(state.shown, path) }, send: isNews ? [result] : [] };
}

/** By all that an editor can show or do with them. Fixes hold nodes of one model, so they are told apart by title. */
function sameFindings(a: readonly Finding[], b: readonly Finding[]): boolean {
  return a.length === b.length && a.every((finding, i) => keyOf(finding) === keyOf(b[i]!));
}

function keyOf(finding: Finding): string {
  return JSON.stringify({ ...finding, fixes: finding.fixes.map((fix) => fix.title) });
}

function added<V>(map: ReadonlyMap<string, V>, path: string, value: V): ReadonlyMap<string, V> {
  return new Map(map).set(path, value);
}

function without<V>(map: ReadonlyMap<string, V>, path: string): ReadonlyMap<string, V> {
  const copy = new Map(map);
  copy.delete(path);
  return copy;
}
