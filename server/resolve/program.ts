/**
 * Joins files into a program: who declares a name, who mentions it, where a node hangs.
 *
 * Syntax only. A name that two files declare has two declarations here; which one an expression means is decided in
 * `scope.ts`. Files are indexed when somebody asks about a name they hold, not when they are linked.
 */
import type { AnyNode, Call, Class, EnumEntry, Field, File, Fn, FnRef, Member, Name, TypeAlias } from '../ir/ir.js';
import { children } from '../ir/walk.js';
import type { Program } from './api.js';
import { fileIndex, isOpen, knownParent, lastName, openFile, type Declarations, type Declared, type FileIndex, type Mentions } from './file-index.js';
import { NameTable } from './name-table.js';

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
}

/** @param before a program most of whose files are the same: what was gathered over them is taken over */
export function link(files: Iterable<File>, before?: Program): Linked {
  return new LinkedProgram(new Map([...files].map((file) => [file.path, file])), before instanceof LinkedProgram ? before : undefined);
}

class LinkedProgram implements Linked {
  private readonly joined = new Map<string, readonly AnyNode[]>();
  /** The file of functions and classes that were asked about: the way up from inside them ends there. */
  private readonly homes = new Map<AnyNode, File>();
  private packages: Map<string, FileIndex[]> | undefined;
  private packageRoots: Set<string> | undefined;
  private renamed: Map<string, Set<string>> | undefined;

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

  usesNamed(name: string): readonly (Name | Member | FnRef)[] {
    return this.all(undefined, name, 'uses');
  }

  heirsNaming(name: string): readonly Class[] {
    return this.all(undefined, name, 'heirs');
  }

  namelessCalls(): readonly Call[] {
    return this.cached('nameless', () => [...this.files.values()].flatMap((file) => this.opening(file, fileIndex(file).mentions.nameless))) as readonly Call[];
  }

  otherNames(name: string): readonly string[] {
    if (this.renamed === undefined) {
      this.renamed = new Map();
      for (const file of this.files.values()) {
        for (const each of file.imports) if (each.name !== undefined && each.alias !== undefined) this.rename(each.name, each.alias);
        for (const each of file.declarations) if (each.kind === 'TypeAlias') this.rename(lastName(each.type.name), each.name);
      }
    }
    return [...(this.renamed.get(name) ?? [])];
  }

  private rename(name: string, other: string): void {
    const known = this.renamed!.get(name);
    if (known === undefined) this.renamed!.set(name, new Set([other]));
    else known.add(other);
  }

  inPackage(name: string, member: string): readonly Declared[] {
    return this.packageIndex().get(name)?.flatMap((index) => this.topOf(index, member)) ?? [];
  }

  topOf(index: FileIndex, name: string): readonly Declared[] {
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
    return this.cached(`${declared ?? ''}:${mentioned ?? ''}:${name}`, () => {
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

  private opening<T>(file: File, nodes: readonly T[]): readonly T[] {
    openFile(file);
    return nodes;
  }

  private cached(key: string, compute: () => readonly AnyNode[]): readonly AnyNode[] {
    const known = this.joined.get(key);
    if (known !== undefined) return known;
    const found = compute();
    this.joined.set(key, found);
    return found;
  }

  private holders(name: string): readonly FileIndex[] {
    if (this.names?.isOwn !== true) this.names = { table: this.names?.table.over(this.files) ?? NameTable.over(this.files), isOwn: true };
    return this.names.table.holders(name);
  }

  // ---- Places -------------------------------------------------------------

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
