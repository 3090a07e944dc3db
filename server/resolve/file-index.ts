/**
 * What one file declares and mentions, by name, and where each node hangs.
 *
 * Three layers, each made when it is first needed and kept as long as the file lives, so that a snapshot that shares
 * files with the one before shares their indexes: the declarations (bodies are not entered), the mentions (one walk over
 * everything), and the parents of nodes. No names are resolved here and no files are joined: that is `program.ts`.
 */
import type { AnyNode, Call, Class, EnumEntry, Expr, Field, File, Fn, FnRef, Member, Name, TypeAlias, TypeRef } from '../ir/ir.js';
import { typesOf, walk } from '../ir/walk.js';

/** What a class or a file holds. */
export type Declared = Class | Fn | Field | TypeAlias | EnumEntry;

export interface Declarations {
  readonly classes: Named<Class>;
  readonly functions: Named<Fn>;
  readonly fields: Named<Field>;
  readonly aliases: Named<TypeAlias>;
}

/** Everything that stands in bodies, by name. */
export interface Mentions {
  /** By the last name of the callee; of a construction, the class's name. */
  readonly calls: Named<Call>;
  /** Names, member accesses and function references, callees included. */
  readonly uses: Named<Name | Member | FnRef>;
  /** Classes of any form, by the last name of each supertype. */
  readonly heirs: Named<Class>;
  /** Named functions that stand in bodies: local ones, and the methods of local and anonymous classes. */
  readonly functions: Named<Fn>;
  /** Named classes that stand in bodies. */
  readonly classes: Named<Class>;
  /** Function expressions that are called on the spot, and calls of computed callees: they have no name. */
  readonly nameless: readonly Call[];
}

export type Named<T> = ReadonlyMap<string, readonly T[]>;

export interface FileIndex {
  readonly file: File;
  readonly declarations: Declarations;
  /** The declarations of the file's top level alone. */
  readonly top: ReadonlyMap<string, readonly Declared[]>;
  readonly mentions: Mentions;
  /** Every name in the declarations and the mentions. */
  readonly names: ReadonlySet<string>;
  /** What imports and type aliases of this file call something else, by its own name. */
  readonly otherNames: ReadonlyMap<string, readonly string[]>;
}

const indexes = new WeakMap<File, FileIndex>();

export function fileIndex(file: File): FileIndex {
  let index = indexes.get(file);
  if (index === undefined) {
    index = new LazyIndex(file);
    indexes.set(file, index);
  }
  return index;
}

class LazyIndex implements FileIndex {
  private declared: Declarations | undefined;
  private topLevel: ReadonlyMap<string, readonly Declared[]> | undefined;
  private mentioned: Mentions | undefined;
  private allNames: ReadonlySet<string> | undefined;
  private renamed: ReadonlyMap<string, readonly string[]> | undefined;

  constructor(readonly file: File) {}

  get declarations(): Declarations {
    return (this.declared ??= indexDeclarations(this.file));
  }

  get top(): ReadonlyMap<string, readonly Declared[]> {
    if (this.topLevel === undefined) {
      const top = new Map<string, Declared[]>();
      for (const declaration of this.file.declarations) if (declaration.name !== undefined) push(top, declaration.name, declaration);
      this.topLevel = top;
    }
    return this.topLevel;
  }

  get mentions(): Mentions {
    return (this.mentioned ??= indexMentions(this.file));
  }

  get names(): ReadonlySet<string> {
    if (this.allNames === undefined) {
      const { classes, functions, fields, aliases } = this.declarations;
      const { calls, uses, heirs, functions: inner, classes: local } = this.mentions;
      const names = new Set(uses.keys());
      for (const named of [classes, functions, fields, aliases, calls, heirs, inner, local]) for (const name of named.keys()) names.add(name);
      this.allNames = names;
    }
    return this.allNames;
  }

  get otherNames(): ReadonlyMap<string, readonly string[]> {
    return (this.renamed ??= indexOtherNames(this.file));
  }
}

function push<T>(map: Map<string, T[]>, name: string, item: T): void {
  const list = map.get(name);
  if (list === undefined) map.set(name, [item]);
  else list.push(item);
}

function indexDeclarations(file: File): Declarations {
  const classes = new Map<string, Class[]>();
  const functions = new Map<string, Fn[]>();
  const fields = new Map<string, Field[]>();
  const aliases = new Map<string, TypeAlias[]>();
  const addClass = (cls: Class): void => {
    if (cls.name !== undefined) push(classes, cls.name, cls);
    for (const fn of cls.functions) if (fn.name !== undefined) push(functions, fn.name, fn);
    for (const field of cls.fields) push(fields, field.name, field);
    for (const alias of cls.aliases) push(aliases, alias.name, alias);
    for (const inner of cls.classes) addClass(inner);
  };
  for (const declaration of file.declarations) {
    if (declaration.kind === 'Class') addClass(declaration);
    else if (declaration.kind === 'Field') push(fields, declaration.name, declaration);
    else if (declaration.kind === 'TypeAlias') push(aliases, declaration.name, declaration);
    else if (declaration.name !== undefined) push(functions, declaration.name, declaration);
  }
  return { classes, functions, fields, aliases };
}

function indexOtherNames(file: File): ReadonlyMap<string, readonly string[]> {
  const others = new Map<string, string[]>();
  for (const each of file.imports) if (each.name !== undefined && each.alias !== undefined) push(others, each.name, each.alias);
  for (const each of file.declarations) if (each.kind === 'TypeAlias') push(others, lastName(each.type.name), each.name);
  return others;
}

function indexMentions(file: File): Mentions {
  const calls = new Map<string, Call[]>();
  const uses = new Map<string, (Name | Member | FnRef)[]>();
  const heirs = new Map<string, Class[]>();
  const functions = new Map<string, Fn[]>();
  const classes = new Map<string, Class[]>();
  const nameless: Call[] = [];
  const inBodies = new Set<AnyNode>();
  walk(file, (node, parent) => {
    switch (node.kind) {
      case 'Name':
      case 'Member':
      case 'FnRef':
        push(uses, node.name, node);
        break;
      case 'Call': {
        const name = calleeName(node);
        if (name === undefined) nameless.push(node);
        else push(calls, name, node);
        break;
      }
      case 'Class':
        for (const { type } of node.supertypes) push(heirs, lastName(type.name), node);
        if (parent === undefined || parent.kind === 'File' || (parent.kind === 'Class' && !inBodies.has(parent))) break;
        inBodies.add(node);
        if (node.name !== undefined) push(classes, node.name, node);
        break;
      case 'Fn':
        if (node.name !== undefined && parent !== undefined && (parent.kind === 'LocalDecl' || inBodies.has(parent))) push(functions, node.name, node);
        break;
    }
  });
  return { calls, uses, heirs, functions, classes, nameless };
}

/** The last name of a call's callee, or undefined for a computed one. */
export function calleeName(call: Call): string | undefined {
  const callee: Expr = call.callee;
  if (callee.kind === 'Name' || callee.kind === 'Member') return callee.name;
  if (callee.kind === 'This') return callee.of;
  return undefined;
}

export function lastName(qualified: string): string {
  const dot = qualified.lastIndexOf('.');
  return dot < 0 ? qualified : qualified.slice(dot + 1);
}

// ---- Parents ------------------------------------------------------------

/** Nodes belong to one file for good, so parents may be kept for all programs at once. */
const parents = new WeakMap<AnyNode, AnyNode>();
const opened = new WeakSet<File>();

export function isOpen(file: File): boolean {
  return opened.has(file);
}

/** Notes the parent of every node of the file; what stands in inline object types hangs below the node that names the type. */
export function openFile(file: File): void {
  if (opened.has(file)) return;
  opened.add(file);
  noteParents(file);
}

function noteParents(root: AnyNode): void {
  walk(root, (node, parent) => {
    if (parent !== undefined) parents.set(node, parent);
    for (const type of typesOf(node)) noteMembers(type, node);
  });
}

function noteMembers(type: TypeRef, holder: AnyNode): void {
  if (type.members !== undefined) {
    parents.set(type.members, holder);
    noteParents(type.members);
  }
  for (const arg of type.args) noteMembers(arg, holder);
  if (type.receiver !== undefined) noteMembers(type.receiver, holder);
}

/** The parent of a node of an opened file. */
export function knownParent(node: AnyNode): AnyNode | undefined {
  return parents.get(node);
}
