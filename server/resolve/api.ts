/**
 * What `resolve/` answers: what a name or an expression is, across files, for both languages.
 *
 * Types only. `link` joins files into a `Program` (a cheap index of declarations and call names); `resolver` answers
 * questions over it, on demand, each answer computed once. An answer that is not known is `undefined`: a method's name
 * alone never makes a type.
 */
import type {
  AnyNode, Argument, Assign, Binding, Call, Class, EnumEntry, Expr, Field, File, Fn, FnRef, Import, Let, Loop, Branch, Member, Name,
  Param, Try, TypeAlias, TypeRef,
} from '../ir/ir.js';
import type { PlatformMember, PlatformType, Runner } from '../catalogue/types.js';
import type { Reading } from './reading.js';

/**
 * A type. `name` is a platform type's bare name (`BluetoothGatt`), a neutral name of the program model (`number`,
 * `string`, `boolean`, `void`, `bytes`, `list`, `set`, `map`, `any`, `fun`), a general library type (`Promise`,
 * `StateFlow`, `Pair`), a type parameter's name, or the name of a class of the project (empty when it is anonymous).
 */
export interface Ty {
  readonly name: string;
  /** Type arguments in order; one that is not known is `any`. */
  readonly args: readonly Ty[];
  /** May be null or undefined. */
  readonly nullable: boolean;
  /** The project's class, when it is one. */
  readonly class?: Class;
  /** The catalogue's type: itself, or for a project class its nearest supertype in the catalogue. */
  readonly platform?: PlatformType;
  /** The class or object itself, not an instance: what static members are read from. */
  readonly meta?: true;
  /** For `fun`: its shape, and the project functions it is known to be. */
  readonly fn?: FnTy;
  /** For a union whose members differ (`A | B`): the members. */
  readonly union?: readonly Ty[];
  /** For an intersection (`A & B`): the parts; `name`, `class` and `platform` are those of the first that is known. */
  readonly parts?: readonly Ty[];
  /** For a list whose positions are known apart: `[A, B]`, `Promise.all([…])`. */
  readonly tuple?: readonly Ty[];
  /** A type parameter that nothing has been put in for. */
  readonly variable?: true;
}

export interface FnTy {
  readonly params: readonly (Ty | undefined)[];
  readonly result?: Ty;
  /** A Kotlin function type with receiver. */
  readonly receiver?: Ty;
}

/** Where a name was declared. Interned: two answers about one declaration are the same object. */
export type Decl =
  /** `node` is what binds it; `Try` for a catch parameter, `Branch` for `when (val x = …)`. */
  | { readonly is: 'local'; readonly name: string; readonly node: Let | Loop | Branch | Try; readonly binding?: Binding; readonly file: File }
  | { readonly is: 'param'; readonly name: string; readonly node: Param; readonly binding?: Binding; readonly fn: Fn; readonly file: File }
  | { readonly is: 'field'; readonly name: string; readonly node: Field; readonly owner?: Class; readonly file: File }
  | { readonly is: 'fn'; readonly name: string; readonly node: Fn; readonly owner?: Class; readonly file: File }
  | { readonly is: 'class'; readonly name: string; readonly node: Class; readonly owner?: Class; readonly file: File }
  | { readonly is: 'entry'; readonly name: string; readonly node: EnumEntry; readonly owner: Class; readonly file: File }
  | { readonly is: 'alias'; readonly name: string; readonly node: TypeAlias; readonly owner?: Class; readonly file: File }
  /** An import whose target is no file of the program: `from` and `name` of the node say what it is. */
  | { readonly is: 'import'; readonly name: string; readonly node: Import; readonly file: File }
  /** A type, or a member, of the catalogue. */
  | { readonly is: 'platform'; readonly name: string; readonly type: PlatformType; readonly member?: PlatformMember };

export interface Callee {
  /** Project functions that may run: every override for a dispatched call. A constructor's `Fn` for a construction. */
  readonly fns: readonly Fn[];
  /** Catalogue members, overloads narrowed by the number and types of the arguments. */
  readonly members: readonly PlatformMember[];
  /** Name of the catalogue type that declares `members`. */
  readonly owner?: string;
  /** The call builds an object of this class. */
  readonly constructs?: Class | PlatformType;
  /** The call runs a function value held here; `fns` holds what it is known to be. */
  readonly value?: Expr | Param | Field;
  /** What the member is called on. `implicit`: Kotlin's `with`/`apply`/extension receiver or the enclosing class. */
  readonly receiver?: Receiver;
  /** The call's bare name, resolved or not; undefined for a computed callee. */
  readonly name?: string;
  /** False: functions other than `fns` may run too. True only if every target is known (project or catalogue). */
  readonly complete: boolean;
}

export interface Receiver {
  readonly expr?: Expr;
  readonly ty?: Ty;
  readonly implicit?: true;
}

/** A catalogue entry that applies to a call, and the arguments that it runs. */
export interface KnownRun {
  readonly runner: Runner;
  readonly lambdas: readonly Argument[];
}

/** A place that names a function without calling it, or calls it. */
export type Use = Call | FnRef | Member | Name;

/** The linked files. Everything here is syntax: no types are needed to answer. Nodes are identities. */
export interface Program {
  readonly files: ReadonlyMap<string, File>;
  /** Notes what is read of the program; whoever keeps answers from it keeps them by these notes. */
  readonly reading: Reading;
  /** Notes where the file's nodes hang. Whoever walks a file opens it first: a node of a file not yet open is searched for. */
  open(file: File): void;
  /** Every class, interface, object or enum of that name, nested ones included. */
  classesNamed(name: string): readonly Class[];
  /** Every named function, methods included. */
  functionsNamed(name: string): readonly Fn[];
  /** Type aliases, nested ones included. */
  aliasesNamed(name: string): readonly TypeAlias[];
  /** Fields and top-level properties of that name. */
  fieldsNamed(name: string): readonly Field[];
  /** Calls whose callee's last name it is. */
  callsNamed(name: string): readonly Call[];
  /** Those of one file. */
  callsIn(file: File, name: string): readonly Call[];
  functionsIn(file: File, name: string): readonly Fn[];
  /** The files that have such calls. */
  filesCalling(name: string): readonly File[];
  /** Names, member accesses and function references of that name, callees included. */
  usesNamed(name: string): readonly (Name | Member | FnRef)[];
  /** The enclosing file; undefined for a node that is not in the program (made by a fix). */
  fileOf(node: AnyNode): File | undefined;
  parentOf(node: AnyNode): AnyNode | undefined;
  /** The nearest function, lambda, constructor or getter around the node (not the node itself). */
  enclosingFn(node: AnyNode): Fn | undefined;
  enclosingClass(node: AnyNode): Class | undefined;
  /** The class whose member it is; undefined at top level or inside a function. */
  ownerOf(declaration: Fn | Field | Class | EnumEntry | TypeAlias): Class | undefined;
}

export interface Resolver {
  /** Another one after an edit, where the answers could be taken over. */
  readonly program: Program;

  typeOf(expr: Expr): Ty | undefined;
  typeOfRef(type: TypeRef, at: AnyNode): Ty | undefined;
  typeOfParam(param: Param): Ty | undefined;
  typeOfField(field: Field): Ty | undefined;
  /** Type of what a declaration holds: a local, parameter, field, or entry; the class itself as `meta`. */
  typeOfDecl(decl: Decl): Ty | undefined;
  /** What a call of the function yields: `Promise<T>` for an async one. */
  resultOf(fn: Fn): Ty | undefined;
  /** What `this` is at a place; with a label, Kotlin's `this@label`. */
  thisAt(node: AnyNode, label?: string): Ty | undefined;

  declOf(expr: Name | Member | FnRef): Decl | undefined;
  /** The declaration that a declaring node makes: the way from a node to what `readsOf` and `writesTo` ask for. */
  declFor(node: Param | Field | Fn | Class | EnumEntry | Let | Loop | Branch | Try, binding?: Binding): Decl | undefined;
  /** Assignments to it, and the `Let` that initialises it. Constructor arguments are in `valuesOf`. */
  writesTo(decl: Decl): readonly (Assign | Let)[];
  /** `Name` and `Member` expressions that read it, those that are called included; pure assignment targets left out. */
  readsOf(decl: Decl): readonly Expr[];
  /**
   * Every expression whose value it may hold: initial value, assignments, arguments that callers pass for a parameter.
   * Undefined when others may write it too (a parameter of a function that code outside the program may call).
   */
  valuesOf(decl: Decl): readonly Expr[] | undefined;

  calleeOf(call: Call): Callee;
  /** How a known function runs the lambdas that this call gives it; none for the project's own functions. */
  runnersAt(call: Call): readonly KnownRun[];
  /** Calls that may run the function, by resolution, not by name; and places that take it as a value. */
  callersOf(fn: Fn): readonly Call[];
  referencesTo(fn: Fn): readonly Use[];
  /** The argument that a call passes for a parameter (named, positional, trailing lambda); undefined if left out or spread. */
  argumentFor(call: Call, fn: Fn, param: Param): Expr | undefined;
  /** The functions a value is: a lambda, a reference, a bound method, a variable or parameter holding one. */
  functionValue(expr: Expr): readonly Fn[] | undefined;
  /** The function type that the place of a function value wants: a parameter's, a field's, that of an interface with one method. */
  wantedFunction(expr: Expr): FnTy | undefined;

  subclassesOf(cls: Class): readonly Class[];
  /** Project classes among the supertypes, nearest first. */
  superclassesOf(cls: Class): readonly Class[];
  /** The catalogue type a project class extends or implements, directly or not. */
  platformOf(cls: Class): PlatformType | undefined;
  /** Overrides of a function in subclasses, itself included when it has a body. */
  implementationsOf(fn: Fn): readonly Fn[];
  /** The function that this one overrides in a project class, nearest first. */
  overriddenBy(fn: Fn): readonly Fn[];
  /** A catalogue callback that this function overrides: not an app's own interface with equal names. */
  isPlatformCallback(fn: Fn): { readonly type: string; readonly member: PlatformMember } | undefined;

  readonly constants: Constants;
  /** Whether both expressions denote one object; undefined when it cannot be known. */
  sameObject(a: Expr, b: Expr): boolean | undefined;
}

/** Values known before the program runs. */
export interface Constants {
  text(expr: Expr): string | undefined;
  whole(expr: Expr): number | undefined;
  bool(expr: Expr): boolean | undefined;
  /** 128-bit lower-case text, from any spelling; bare numbers and names only where the place takes a UUID. */
  uuid(expr: Expr): string | undefined;
  /** Length in bytes of a byte array, or of a text as UTF-8. */
  byteLength(expr: Expr): { readonly min: number; readonly max: number } | undefined;
  bytes(expr: Expr): readonly number[] | undefined;
  /** Elements of a constant collection: a list, a map's values, an enum's entries (as `EnumEntry`'s arguments cannot stand for it, see `entries`). */
  items(expr: Expr): readonly Expr[] | undefined;
  /** Entries, when the expression is all entries of an enum (`Mode.entries`, `Mode.values()`). */
  entries(expr: Expr): readonly EnumEntry[] | undefined;
}
