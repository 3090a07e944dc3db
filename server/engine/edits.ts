/**
 * From a fix, which is a change to the program model, to edits of text. Where things go is decided here and in
 * `edits/`; how a made piece of program is spelled is the language's writer's affair, which is given in. Text that a fix
 * does not touch is never written again.
 *
 * A fix is written whole or refused: when its edits overlap, reach into what the parser could not read, or have no place
 * in the text.
 */
import type { AnyNode, Declaration, Expr, File, Language, Span, Stmt } from '../ir/ir.js';
import { walk } from '../ir/walk.js';
import { argumentEdits } from './edits/arguments.js';
import { importEdits } from './edits/imports.js';
import { memberEdits } from './edits/members.js';
import { replaceEdits, wrapEdits } from './edits/nodes.js';
import { withAnswers } from './edits/placeholders.js';
import { bodyEdits, insertEdits, removeEdits } from './edits/statements.js';
import { tryEdits } from './edits/tries.js';
import type { Edit, Fix } from './rule.js';
import { touches } from './run.js';

/** An empty range is an insertion. */
export interface TextEdit {
  readonly at: Span;
  readonly text: string;
}

/** Edits of one file, in ascending order, none overlapping another; insertions at one place in the order of the fix. */
export interface FileEdits {
  readonly path: string;
  readonly edits: readonly TextEdit[];
}

/** How the lines around a place are laid out. */
export interface Style {
  /** White space at the beginning of the current line. */
  readonly indent: string;
  /** One step of indentation. */
  readonly unit: string;
  /** Whether statements end with one. */
  readonly semicolons: boolean;
  readonly quote: '"' | "'";
  readonly eol: string;
}

export interface Writers {
  /** The style at an offset of a text. */
  styleAt(text: string, offset: number): Style;
  /**
   * Source text of a piece of model, without a newline at its end; further lines begin with the style's indentation. A
   * statement has its terminator, an assignment none. Pieces with a place in the source are copied from it. Throws where
   * the language has no words for a made piece.
   */
  write(node: Expr | Stmt | Declaration, language: Language, style: Style, source: string): string;
}

export interface EditSources {
  readonly writers: Writers;
  /** The text of any file of the project, profiles and manifests included. */
  textOf(path: string): string | undefined;
  /** The model of a source. */
  fileOf(path: string): File | undefined;
}

/** One file while it is being edited. Whatever cannot be done is thrown as `Refused` and caught in this module. */
export interface Target {
  readonly file: File;
  readonly text: string;
  readonly style: Style;
  /** What ends a statement: a semicolon, or nothing. */
  readonly terminator: '' | ';';
  /** As `Writers.write`, the lines after the first beginning with `indent`. */
  write(node: Expr | Stmt | Declaration, indent: string): string;
  /** The nodes around a node, nearest first. */
  around(node: AnyNode): readonly AnyNode[];
}

/** A fix has no place in the text as it stands. The message is for tests and logs; a user is simply not offered the fix. */
export class Refused extends Error {}

/**
 * @param path the file that the finding stands in
 * @param answers placeholder → the user's words; a question without an answer takes its initial one
 */
export function editsOf(
  fix: Fix, path: string, sources: EditSources, answers: Readonly<Record<string, string>> = {},
): { readonly files: readonly FileEdits[] } | { readonly refused: string } {
  try {
    const byPath = new Map<string, TextEdit[]>();
    for (const edit of withAnswers(fix, answers)) {
      const to = edit.path ?? path;
      byPath.set(to, [...(byPath.get(to) ?? []), ...editsFor(edit, to, sources)]);
    }
    return { files: [...byPath].map(([to, edits]) => ({ path: to, edits: sound(edits, to, sources) })) };
  } catch (thrown) {
    if (thrown instanceof Refused) return { refused: thrown.message };
    throw thrown;
  }
}

/** The text with all edits applied; they must be as `editsOf` makes them. */
export function applyEdits(text: string, edits: readonly TextEdit[]): string {
  let out = '';
  let from = 0;
  for (const edit of edits) {
    out += text.slice(from, edit.at.start) + edit.text;
    from = edit.at.end;
  }
  return out + text.slice(from);
}

function editsFor(edit: Edit, path: string, sources: EditSources): readonly TextEdit[] {
  switch (edit.do) {
    case 'text': return [{ at: edit.at, text: edit.text }];
    case 'replace': return replaceEdits(targetAt(edit.node.span, path, sources), edit.node, edit.by);
    case 'insert': return insertEdits(targetAt(edit.node.span, path, sources), edit.where, edit.node, edit.stmts);
    case 'body': return bodyEdits(targetAt(edit.fn.span, path, sources), edit.where, edit.fn, edit.stmts);
    case 'wrap': return wrapEdits(targetAt(edit.node.span, path, sources), edit.node, edit.before, edit.after);
    case 'try': return tryEdits(targetAt(edit.from.span, path, sources), edit);
    case 'remove': return removeEdits(targetAt(edit.node.span, path, sources), edit.node);
    case 'argument': return argumentEdits(targetAt(edit.call.span, path, sources), edit.call, edit.index, edit.name, edit.value);
    case 'member': return memberEdits(targetAt('kind' in edit.after ? edit.after.span : edit.after, path, sources), edit.after, edit.declaration);
    case 'import': return importEdits(targetAt({ start: 0, end: 0 }, path, sources), edit.from, edit.name);
  }
}

function targetAt(at: Span, path: string, { writers, textOf, fileOf }: EditSources): Target {
  const file = fileOf(path);
  const text = textOf(path);
  if (file === undefined || text === undefined) throw new Refused(`${path} is no source of the project`);
  const style = writers.styleAt(text, Math.max(0, at.start));
  return {
    file, text, style,
    terminator: file.language === 'typescript' && style.semicolons ? ';' : '',
    around: (node) => aroundIn(file, node),
    write(node, indent) {
      try {
        return writers.write(node, file.language, { ...style, indent }, text);
      } catch (thrown) {
        throw new Refused(thrown instanceof Error ? thrown.message : String(thrown));
      }
    },
  };
}

// ---- Soundness ----------------------------------------------------------

function sound(edits: readonly TextEdit[], path: string, sources: EditSources): TextEdit[] {
  const length = sources.textOf(path)?.length;
  const unreadable = sources.fileOf(path)?.unreadable ?? [];
  const inOrder = edits.map((edit, index) => ({ edit, index }))
    .sort((a, b) => a.edit.at.start - b.edit.at.start || a.edit.at.end - b.edit.at.end || a.index - b.index)
    .map(({ edit }) => edit);
  inOrder.forEach((edit, i) => {
    const before = inOrder[i - 1];
    if (before !== undefined && edit.at.start < before.at.end) throw new Refused('two edits of the fix overlap');
    if (length === undefined || edit.at.start < 0 || edit.at.end > length) throw new Refused('an edit lies outside of the text');
    if (unreadable.some((range) => touches(range, edit.at))) throw new Refused('an edit reaches into text that could not be read');
  });
  return inOrder;
}

// ---- Around a node ------------------------------------------------------

const parents = new WeakMap<File, ReadonlyMap<AnyNode, AnyNode>>();

function aroundIn(file: File, node: AnyNode): readonly AnyNode[] {
  let map = parents.get(file);
  if (map === undefined) parents.set(file, map = parentsIn(file));
  if (!map.has(node)) throw new Refused('the node is not in the file');
  const out: AnyNode[] = [];
  for (let next = map.get(node); next !== undefined; next = map.get(next)) out.push(next);
  return out;
}

function parentsIn(file: File): ReadonlyMap<AnyNode, AnyNode> {
  const map = new Map<AnyNode, AnyNode>();
  walk(file, (node, parent) => {
    if (parent !== undefined) map.set(node, parent);
  });
  return map;
}
