/**
 * All texts of a project at one moment, never changed afterwards: those on disk, and over them those that an editor
 * holds. Derived values (models, the linked program) are computed when first asked for and shared between snapshots as
 * long as the texts they came from are the same. It reads no disk and checks nothing.
 */
import type { File } from '../ir/ir.js';
import type { Program, Resolver } from '../resolve/api.js';
import { fileKind, type FileKind } from './files.js';

/** The parts of the analysis that make a program of texts. */
export interface Linking {
  /** Total; `undefined` for a file that is no source. */
  lower(text: string, path: string): File | undefined;
  /** @param before a program most of whose files are the same, for what can be taken over from it */
  link(files: readonly File[], before?: Program): Program;
  /** @param before the resolver of the program before; whatever of it can be taken over is the new one's alone from then on */
  resolver(program: Program, before?: Resolver): Resolver;
}

export type Change =
  /** The file on disk is new, has another text, or is gone (`text` absent). */
  | { readonly is: 'disk'; readonly path: string; readonly text?: string }
  /** An editor opened the document or edited it; its text counts, not the disk's. */
  | { readonly is: 'edited'; readonly path: string; readonly text: string; readonly version: number }
  /** The editor let go: the disk's text counts again. */
  | { readonly is: 'closed'; readonly path: string };

/** One text of one file. The object is the identity: whatever is derived from it hangs on it. */
interface Text {
  readonly text: string;
  /** Absent: not lowered yet. */
  model?: { readonly file: File | undefined };
}

interface Held {
  readonly disk?: Text;
  readonly open?: { readonly text: Text; readonly version: number };
}

/** What is computed over all sources, when it is first asked for. */
interface Joined {
  program?: Program;
  resolver?: Resolver;
  /** The same of the last snapshot that had it, while something can be taken over from it. */
  before?: Joined;
}

export class Snapshot {
  private linked: Joined = {};

  private constructor(private readonly linking: Linking, private readonly held: ReadonlyMap<string, Held>) {}

  static empty(linking: Linking): Snapshot {
    return new Snapshot(linking, new Map());
  }

  /** The next snapshot, and the paths whose text is now another one, new or gone, or whose document has another version. */
  apply(changes: readonly Change[]): { readonly snapshot: Snapshot; readonly changed: ReadonlySet<string> } {
    const held = new Map(this.held);
    for (const change of changes) {
      const next = changedBy(change, held.get(change.path));
      if (next === undefined) held.delete(change.path);
      else held.set(change.path, next);
    }
    const snapshot = new Snapshot(this.linking, held);
    const paths = [...new Set(changes.map((change) => change.path))];
    const hasNewText = (path: string): boolean => inForce(held.get(path)) !== inForce(this.held.get(path));
    const isOtherProgram = paths.some((path) => fileKind(path) === 'source' && hasNewText(path));
    const before = this.linked.program === undefined ? this.linked.before : this.linked;
    snapshot.linked = isOtherProgram ? { ...(before && { before }) } : this.linked;
    // A version without a new text counts too, since findings are published for a version.
    const changed = paths.filter((path) => hasNewText(path) || snapshot.versionOf(path) !== this.versionOf(path));
    return { snapshot, changed: new Set(changed) };
  }

  /** Every path of one kind, in order. */
  paths(kind: FileKind): readonly string[] {
    return [...this.held.keys()].filter((path) => fileKind(path) === kind).sort();
  }

  textOf(path: string): string | undefined {
    return inForce(this.held.get(path))?.text;
  }

  /** The version of the document that an editor holds; `undefined` for a file that none holds. */
  versionOf(path: string): number | undefined {
    return this.held.get(path)?.open?.version;
  }

  isOpen(path: string): boolean {
    return this.held.get(path)?.open !== undefined;
  }

  /** Only an editor knows the file: it lies outside the project's folders, or was never saved. */
  isOnDisk(path: string): boolean {
    return this.held.get(path)?.disk !== undefined;
  }

  fileOf(path: string): File | undefined {
    const text = inForce(this.held.get(path));
    if (text === undefined) return undefined;
    text.model ??= { file: this.linking.lower(text.text, path) };
    return text.model.file;
  }

  get program(): Program {
    return this.linked.program ??= this.linking.link(this.paths('source').flatMap((path) => this.fileOf(path) ?? []), this.linked.before?.program);
  }

  get resolver(): Resolver {
    const { linked, program } = this;
    if (linked.resolver === undefined) {
      const { before } = linked;
      linked.resolver = this.linking.resolver(program, before?.resolver);
      // The snapshot before would have to begin anew; and a chain of all that ever were would never be let go.
      delete before?.resolver;
      delete linked.before;
    }
    return linked.resolver;
  }
}

function inForce(held: Held | undefined): Text | undefined {
  return held?.open?.text ?? held?.disk;
}

function changedBy(change: Change, before: Held = {}): Held | undefined {
  switch (change.is) {
    case 'edited':
      return { ...before, open: { text: sameOrNew(change.text, before), version: change.version } };
    case 'closed':
      return before.disk && { disk: before.disk };
    case 'disk': {
      const open = before.open && { open: before.open };
      if (change.text === undefined) return open;
      return { disk: sameOrNew(change.text, before), ...open };
    }
  }
}

/** Saving a document gives the disk the text that the editor had, and closing it then changes nothing. */
function sameOrNew(text: string, before: Held): Text {
  for (const known of [before.open?.text, before.disk]) {
    if (known?.text === text) return known;
  }
  return { text };
}
