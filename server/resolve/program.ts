/**
 * Joins files into a program: who declares a name, who mentions it, where a node hangs.
 *
 * Syntax only. A name that two files declare has two declarations here; which one an expression means is decided in
 * `scope.ts`. Files are indexed when somebody asks about a name they hold, not when they are linked.
 */
import type { AnyNode, Call, Class, EnumEntry, Field, File, Fn, FnRef, Member, Name, TypeAlias } from '../ir/ir.js';
import { children } from '../ir/walk.js';
import type { Program } from './api.js';
import { fileIndex, isOpen, knownParent, openFile, type Declarations, type Declared, type FileIndex, type Mentions } from './file-index.js';
import { NameTable } from './name-table.js';
import { Answers, Kept, Reading } from './reading.js';

/** A program as the other modules of this room see it. */
export interface Linked extends Program {
  indexOf(file: File): FileIndex;
  /** Declarations of that name on the top level of a file. */
  topOf(index: FileIndex, name: string): readonly Declared[];
  /** Top-level declarations of that name in a Kotlin package. */
  inPackage(name: string, member: string): readonly Declared[];
  isPackage(name: string): boolean;
  /** Whether some package begins with this segment. */
  isPackageRoot(name: string): boolean;
  /** Classes that name `name` among their supertypes; what the name means there is not decided. */
  heirsNaming(name: string): readonly Class[];
  namelessCalls(): readonly Call[];
  /** Names that imports and type aliases give to what is declared under this one. */
  otherNames(name: string): readonly string[];
  /** The file of that path, whose nodes are going to be looked at. */
  fileAt(path: string): File | undefined;
  /**
   * Goes on with what was read of another program, which then begins anew. False when the programs differ in more than
   * the texts of a few files: nothing is known then of what still holds.
   */
  takesOver(before: Linked): boolean;
}

/** @param before a program most of whose files are the same: what was gathered over them is taken over */
export function link(files: Iterable<File>, before?: Program): Linked {
  return new LinkedProgram(new Map([...files].map((file) => [file.path, file])), before instanceof LinkedProgram ? before : undefined);
}

type Lookup = Kept<readonly AnyNode[]>;

class LinkedProgram implements Linked {
  reading = new Reading();
  private joined = new Answers<string, Lookup>(this.reading);
  /** The file of functions and classes that were asked about: the way up from inside them ends there. */
  private readonly homes = new Map<AnyNode, File>();
  private packages: Map<string, FileIndex[]> | undefined;
  private packageRoots: Set<string> | undefined;
  private renaming: readonly FileIndex[] | undefined;

  private readonly inOrder: readonly File[];
  private lastFound = -1;
  /** Made when a name is first asked for; until then, that of the program before. */
  private names: { readonly table: NameTable; readonly isOwn: boolean } | undefined;

  constructor(readonly files: ReadonlyMap<string, File>, before: LinkedProgram | undefined) {
    this.inOrder = [...files.values()];
    this.names = before?.names && { table: before.names.table, isOwn: false };
  }

  // ---- Names --------------------------------------------------------------

  classesNamed(name: string): readonly Class[] {
    return this.all('classes', name, 'classes');
  }

  functionsNamed(name: string): readonly Fn[] {
    return this.all('functions', name, 'functions');
  }

  aliasesNamed(name: string): readonly TypeAlias[] {
    return this.all('aliases', name);
  }

  fieldsNamed(name: string): readonly Field[] {
    return this.all('fields', name);
  }

  callsNamed(name: string): readonly Call[] {
    return this.all(undefined, name, 'calls');
  }

  callsIn(file: File, name: string): readonly Call[] {
    return this.inFile(file, this.indexOf(file).mentions.calls.get(name));
  }

  functionsIn(file: File, name: string): readonly Fn[] {
    const { declarations, mentions } = this.indexOf(file);
    return [...this.inFile(file, declarations.functions.get(name)), ...this.inFile(file, mentions.functions.get(name))];
  }

  filesCalling(name: string): readonly File[] {
    this.reading.asks(`calls:${name}`);
    return this.holders(name).filter((index) => index.mentions.calls.has(name)).map((index) => index.file);
  }

  usesNamed(name: string): readonly (Name | Member | FnRef)[] {
    return this.all(undefined, name, 'uses');
  }

  heirsNaming(name: string): readonly Class[] {
    return this.all(undefined, name, 'heirs');
  }

  namelessCalls(): readonly Call[] {
    return this.cached(NAMELESS, () => [...this.files.values()].flatMap((file) => {
      const { nameless } = fileIndex(file).mentions;
      return nameless.length === 0 ? [] : this.opening(file, nameless);
    })) as readonly Call[];
  }

  otherNames(name: string): readonly string[] {
    this.reading.asks(`${OTHER}${name}`);
    this.renaming ??= [...this.files.values()].map(fileIndex).filter((index) => index.otherNames.size > 0);
    const found = new Set<string>();
    for (const { file, otherNames } of this.renaming) {
      const others = otherNames.get(name);
      if (others === undefined) continue;
      this.reading.shows(file.path);
      for (const other of others) found.add(other);
    }
    return [...found];
  }

  inPackage(name: string, member: string): readonly Declared[] {
    this.reading.asks(`${TOP}${member}`);
    return this.packageIndex().get(name)?.flatMap((index) => this.topOf(index, member)) ?? [];
  }

  topOf(index: FileIndex, name: string): readonly Declared[] {
    this.reading.asks(`${TOP}${name}`);
    const found = index.top.get(name);
    return found === undefined ? [] : this.opening(index.file, found);
  }

  isPackage(name: string): boolean {
    return this.packageIndex().has(name);
  }

  isPackageRoot(name: string): boolean {
    if (this.packageRoots === undefined) {
      this.packageRoots = new Set();
      for (const whole of this.packageIndex().keys()) this.packageRoots.add(whole.split('.', 1)[0]!);
    }
    return this.packageRoots.has(name);
  }

  indexOf(file: File): FileIndex {
    this.reading.shows(file.path);
    return fileIndex(file);
  }

  private packageIndex(): Map<string, FileIndex[]> {
    if (this.packages === undefined) {
      this.packages = new Map();
      for (const file of this.files.values()) {
        if (file.language !== 'kotlin') continue;
        const known = this.packages.get(file.module);
        if (known === undefined) this.packages.set(file.module, [fileIndex(file)]);
        else known.push(fileIndex(file));
      }
    }
    return this.packages;
  }

  /** Everything of one name, from the declarations, the bodies, or both; files that answer are opened. */
  private all<T extends AnyNode>(declared: keyof Declarations | undefined, name: string, mentioned?: Exclude<keyof Mentions, 'nameless'>): readonly T[] {
    return this.cached(`${declared ?? mentioned}:${name}`, () => {
      const found: T[] = [];
      const holders = this.holders(name);
      const add = (index: FileIndex, nodes: readonly AnyNode[] | undefined): void => {
        if (nodes !== undefined) found.push(...this.opening(index.file, nodes as readonly T[]));
      };
      if (declared !== undefined) for (const index of holders) add(index, index.declarations[declared].get(name));
      if (mentioned !== undefined) for (const index of holders) add(index, index.mentions[mentioned].get(name));
      return found;
    }) as readonly T[];
  }

  private inFile<T>(file: File, nodes: readonly T[] | undefined): readonly T[] {
    return nodes === undefined ? [] : this.opening(file, nodes);
  }

  private opening<T>(file: File, nodes: readonly T[]): readonly T[] {
    this.reading.shows(file.path);
    openFile(file);
    return nodes;
  }

  private cached(key: string, compute: () => readonly AnyNode[]): readonly AnyNode[] {
    const known = this.joined.get(key);
    if (known !== undefined) {
      this.reading.uses(known);
      return known.value;
    }
    this.reading.begins();
    this.reading.asks(key);
    const lookup: Lookup = new Kept(compute());
    this.reading.ends(lookup);
    this.joined.set(key, lookup);
    return lookup.value;
  }

  private holders(name: string): readonly FileIndex[] {
    if (this.names?.isOwn !== true) this.names = { table: this.names?.table.over(this.files) ?? NameTable.over(this.files), isOwn: true };
    return this.names.table.holders(name);
  }

  // ---- From one program to the next ----------------------------------------

  takesOver(before: Linked): boolean {
    const edited = before instanceof LinkedProgram ? this.editedSince(before) : undefined;
    if (edited === undefined || !(before instanceof LinkedProgram)) return false;
    this.reading = before.reading;
    this.joined = before.joined;
    before.reading = new Reading();
    before.joined = new Answers(before.reading);
    this.reading.edited(edited.map(({ now }) => now.path), edited.flatMap(({ was, now }) => newNames(was, now)));
    return true;
  }

  /** The files that have another text; undefined when more than that has changed: files, their packages, or a good part of all. */
  private editedSince(before: LinkedProgram): { readonly was: File; readonly now: File }[] | undefined {
    if (this.files.size !== before.files.size) return undefined;
    const edited: { was: File; now: File }[] = [];
    for (const now of this.files.values()) {
      const was = before.files.get(now.path);
      if (was === now) continue;
      if (was === undefined || was.module !== now.module || was.language !== now.language) return undefined;
      edited.push({ was, now });
    }
    return edited.length <= FEW_EDITED ? edited : undefined;
  }

  // ---- Places -------------------------------------------------------------

  fileAt(path: string): File | undefined {
    const file = this.files.get(path);
    if (file !== undefined) this.reading.shows(path);
    return file;
  }

  open(file: File): void {
    openFile(file);
  }

  parentOf(node: AnyNode): AnyNode | undefined {
    const parent = knownParent(node);
    if (parent !== undefined || node.kind === 'File') return parent;
    return this.openAround(node) ? knownParent(node) : undefined;
  }

  fileOf(node: AnyNode): File | undefined {
    let home: AnyNode | undefined;
    for (let at: AnyNode | undefined = node; at !== undefined; at = this.parentOf(at)) {
      const file = at.kind === 'File' ? at : this.homes.get(at);
      if (file !== undefined) {
        if (home !== undefined) this.homes.set(home, file);
        return file;
      }
      if (home === undefined && (at.kind === 'Fn' || at.kind === 'Class')) home = at;
    }
    return undefined;
  }

  enclosingFn(node: AnyNode): Fn | undefined {
    for (let at = this.parentOf(node); at !== undefined; at = this.parentOf(at)) if (at.kind === 'Fn') return at;
    return undefined;
  }

  enclosingClass(node: AnyNode): Class | undefined {
    for (let at = this.parentOf(node); at !== undefined; at = this.parentOf(at)) if (at.kind === 'Class') return at;
    return undefined;
  }

  ownerOf(declaration: Fn | Field | Class | EnumEntry | TypeAlias): Class | undefined {
    const parent = this.parentOf(declaration);
    return parent?.kind === 'Class' ? parent : undefined;
  }

  /** Opens the file that holds a node nobody has shown us yet; whoever opens its file first spares this search. */
  private openAround(node: AnyNode): boolean {
    if (node.span.start < 0) return false;
    // Files are mostly asked about in their order: the search goes on behind the last one found.
    for (let i = 0; i < this.inOrder.length; i++) {
      const at = (this.lastFound + 1 + i) % this.inOrder.length;
      const file = this.inOrder[at]!;
      if (isOpen(file) || node.span.end > file.span.end || !fileHolds(file, node)) continue;
      openFile(file);
      this.lastFound = at;
      return true;
    }
    return false;
  }
}

/** What kind of thing is asked for by a name that none of the indexes has: see `keysOf`. */
const NAMELESS = 'nameless:';
const OTHER = 'other:';
const TOP = 'top:';

/** With more edited files than this, answers are computed anew. */
const FEW_EDITED = 8;

/** What can be asked for in the one file and could not be in the other. */
function newNames(was: File, now: File): string[] {
  const before = new Set(keysOf(fileIndex(was)));
  return [...keysOf(fileIndex(now))].filter((key) => !before.has(key));
}

/** Everything that a look-up can find in a file, as the look-ups call it. */
function* keysOf({ declarations, mentions, top, otherNames }: FileIndex): Generator<string> {
  const { nameless, ...named } = mentions;
  for (const kinds of [declarations, named]) {
    for (const [kind, names] of Object.entries(kinds)) for (const name of names.keys()) yield `${kind}:${name}`;
  }
  for (const name of top.keys()) yield `${TOP}${name}`;
  for (const name of otherNames.keys()) yield `${OTHER}${name}`;
  if (nameless.length > 0) yield NAMELESS;
}

/** Goes down from the file through the children whose spans hold the node's. A constructor's body may lie outside its head. */
function fileHolds(file: File, wanted: AnyNode): boolean {
  const open: AnyNode[] = [file];
  for (let node = open.pop(); node !== undefined; node = open.pop()) {
    if (node === wanted) return true;
    for (const child of children(node)) {
      const isLoose = child.kind === 'Fn' && child.name === 'constructor';
      if (isLoose || child.span.start < 0 || (child.span.start <= wanted.span.start && wanted.span.end <= child.span.end)) open.push(child);
    }
  }
  return false;
}
