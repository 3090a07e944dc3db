/**
 * The program model: what the analysis may know about a program, whichever
 * language it was written in.
 *
 * One file of source becomes one `File`. The tree stays close to the source, so
 * every node carries the exact span it came from and a fix can be written back.
 * It holds no types, no symbols and no facts: those are computed from it
 * (`resolve/`, `effects/`), never stored in it.
 *
 * A piece of source is lowered once: no node stands for the same text as another
 * unless it contains it, so a count of calls is a count of calls.
 *
 * Lowering never fails. A construct a front end does not know becomes `Unknown`
 * around its lowered children, and whoever meets `Unknown` must stay silent.
 */

/** Half-open range of UTF-16 code units in the file's text. */
export interface Span {
  readonly start: number;
  readonly end: number;
}

/** The span of a node that a fix made: it stands nowhere in the text yet, so a writer prints it whole. */
export const MADE: Span = { start: -1, end: -1 };

interface Node<K extends string> {
  readonly kind: K;
  readonly span: Span;
}

// ---- Declarations -------------------------------------------------------

export interface File extends Node<'File'> {
  readonly language: Language;
  /** As given to the front end; also the file's identity inside a snapshot. */
  readonly path: string;
  /** Dotted package in Kotlin (empty for none); for TypeScript, the path without its ending stands in for one. */
  readonly module: string;
  readonly imports: readonly Import[];
  readonly declarations: readonly Declaration[];
  /** Top-level statements in order, TypeScript's module-level `const` included as `Let`; empty for Kotlin. */
  readonly body: Block;
  /** Ranges the parser could not read; nothing inside them is reported. */
  readonly unreadable: readonly Span[];
  /** Comments in order, delimiters included. */
  readonly comments: readonly Span[];
}

export type Language = 'kotlin' | 'typescript';

export interface Import extends Node<'Import'> {
  /** Kotlin: the qualified name without its last part. TypeScript: the module specifier as written. */
  readonly from: string;
  /** The imported name; absent for a star import, `default` for a default import. */
  readonly name?: string;
  /** The local name, where it differs; for `import * as x`, x with `name` absent. */
  readonly alias?: string;
}

export type Declaration = Class | Fn | Field | TypeAlias;

export interface TypeAlias extends Node<'TypeAlias'> {
  readonly name: string;
  /** Names of the type's own parameters; absent when it has none. */
  readonly typeParams?: readonly string[];
  readonly type: TypeRef;
}

/** A class, interface, object, enum, an object literal or the anonymous body of `object : T {}`. */
export interface Class extends Node<'Class'> {
  readonly form: 'class' | 'interface' | 'object' | 'enum' | 'anonymous';
  /** Absent when anonymous. */
  readonly name?: string;
  readonly nameSpan?: Span;
  /** Names of the type's own parameters; absent when it has none. */
  readonly typeParams?: readonly string[];
  readonly supertypes: readonly Supertype[];
  /**
   * The primary constructor first. Kotlin's primary constructor has the `init` blocks, in order, as its body.
   * Every one is named `constructor`.
   */
  readonly constructors: readonly Fn[];
  /** Constructor properties included. A companion's members stand here with `static`, as TypeScript's statics do. */
  readonly fields: readonly Field[];
  readonly functions: readonly Fn[];
  readonly classes: readonly Class[];
  readonly aliases: readonly TypeAlias[];
  readonly entries: readonly EnumEntry[];
  readonly modifiers: ReadonlySet<Modifier>;
  readonly annotations: readonly Annotation[];
  /** Values spread into an object literal (`{ ...base }`): its members are then not all known. */
  readonly spreads: readonly Expr[];
}

export interface Supertype {
  readonly type: TypeRef;
  /** Arguments of the super constructor, evaluated when the object is built. */
  readonly args?: readonly Argument[];
  /** Kotlin `Base by value`: members not overridden are answered by that value. */
  readonly by?: Expr;
}

export interface EnumEntry extends Node<'EnumEntry'> {
  readonly name: string;
  readonly args: readonly Argument[];
  /** TypeScript `NAME = value`. */
  readonly value?: Expr;
  readonly body?: Class;
}

export interface Annotation extends Node<'Annotation'> {
  /** Last part of the name: `SuppressLint`, `Component`. */
  readonly name: string;
  readonly args: readonly Argument[];
}

export type Modifier =
  | 'override' | 'suspend' | 'async' | 'generator' | 'static' | 'abstract' | 'open' | 'private' | 'protected' | 'internal'
  | 'export' | 'default' | 'inline' | 'operator' | 'infix' | 'lateinit' | 'const' | 'data' | 'sealed' | 'inner'
  | 'tailrec' | 'external' | 'actual' | 'expect' | 'readonly' | 'declare' | 'noinline' | 'crossinline' | 'vararg' | 'value';

export interface Fn extends Node<'Fn'> {
  /** Absent for a lambda or an anonymous function; `constructor` for a constructor. */
  readonly name?: string;
  readonly nameSpan?: Span;
  /** From the first modifier or keyword to the end of the result type: where a callback finding points. */
  readonly headSpan?: Span;
  /** The receiver of a Kotlin extension function. */
  readonly receiver?: TypeRef;
  readonly typeParams: readonly string[];
  readonly params: readonly Param[];
  readonly result?: TypeRef;
  readonly modifiers: ReadonlySet<Modifier>;
  readonly annotations: readonly Annotation[];
  /** Absent when abstract or declared only. An expression body is a block with one implicit `Return`. */
  readonly body?: Block;
  /** A secondary constructor's `this(…)` or `super(…)` call. */
  readonly delegation?: Call;
}

export interface Param extends Node<'Param'> {
  /** The bound name; a destructured parameter has `pattern` and an empty name. */
  readonly name: string;
  readonly pattern?: readonly Binding[];
  readonly type?: TypeRef;
  readonly defaultValue?: Expr;
  readonly rest?: true;
  readonly optional?: true;
  /** Kotlin's implicit `it`: real to the analysis, absent from the text. */
  readonly implicit?: true;
  /** A constructor parameter that is also a property: its `Field` stands in the class, with `fromParam`. */
  readonly property?: true;
}

export interface Field extends Node<'Field'> {
  readonly name: string;
  readonly nameSpan: Span;
  readonly type?: TypeRef;
  readonly mutable: boolean;
  readonly static: boolean;
  readonly initial?: Expr;
  readonly modifiers: ReadonlySet<Modifier>;
  readonly annotations: readonly Annotation[];
  /** `get() = …`, or the lambda of `by lazy`: runs when read, not when built. */
  readonly getter?: Fn;
  readonly setter?: Fn;
  /** Kotlin `by something(…)` that is not `lazy`. */
  readonly delegate?: Expr;
  /** The receiver of a Kotlin extension property. */
  readonly receiver?: TypeRef;
  /** Declared by a constructor parameter of the same name. */
  readonly fromParam?: true;
}

export interface TypeRef {
  readonly span: Span;
  /**
   * As written, without arguments or nullability, qualified where the source qualifies it; but common types take a
   * neutral name in both languages: `number`, `string`, `boolean`, `void`, `bytes` (ByteArray, Uint8Array, DataView,
   * ArrayBuffer, BufferSource), `list` (any ordered collection or array), `set`, `map`, `any`; `fun` for a function
   * type (arguments: its parameters, then its result), `|` for a union and `&` for an intersection (arguments: the
   * members, null and undefined left out), `'…'` literal types as `string`, `number` or `boolean`.
   */
  readonly name: string;
  readonly args: readonly TypeRef[];
  readonly nullable: boolean;
  /** A function type with receiver: `BluetoothGatt.() -> Unit`. */
  readonly receiver?: TypeRef;
  /** Kotlin `suspend () -> T`. */
  readonly suspend?: true;
  /** Members of an inline TypeScript object type, as a class of form `interface`. */
  readonly members?: Class;
}

// ---- Statements ---------------------------------------------------------

export type Stmt = Block | Let | Assign | ExprStmt | Yield | Branch | Loop | Try | Return | Throw | Jump | LocalDecl;

export interface Block extends Node<'Block'> {
  readonly stmts: readonly Stmt[];
  readonly label?: string;
}

/** One name that a declaration binds: `path` leads from the value to it (property names and positions; empty for all of it). */
export interface Binding {
  readonly name: string;
  readonly span: Span;
  readonly path: readonly (string | number)[];
  readonly defaultValue?: Expr;
  /** `...rest` */
  readonly rest?: true;
}

export interface Let extends Node<'Let'> {
  /** One binding with an empty path, or several when destructured. */
  readonly bindings: readonly Binding[];
  readonly type?: TypeRef;
  readonly mutable: boolean;
  readonly value?: Expr;
  /** TypeScript `using`: released when the block ends. */
  readonly scoped?: true;
  /** Kotlin local `by lazy { }`: `value` is then the delegate's expression. */
  readonly delegated?: true;
  /** TypeScript module level only. */
  readonly exported?: true;
}

/** A statement, and in TypeScript also an expression. `x++` is an assignment with `op: '+'` and a made 1. */
export interface Assign extends Node<'Assign'> {
  readonly target: Expr;
  /** The operator of a compound assignment, without its `=`. */
  readonly op?: string;
  readonly value: Expr;
  /** `x++`: the expression's value is the old one. */
  readonly postfix?: true;
}

/** An expression whose value nobody takes. */
export interface ExprStmt extends Node<'ExprStmt'> {
  readonly expr: Expr;
  /** TypeScript `void f()`: thrown away on purpose. */
  readonly deliberate?: true;
}

/** The value of an arm of a `Choose`. So an `ExprStmt` is always discarded, and this never is. */
export interface Yield extends Node<'Yield'> { readonly value: Expr }

/**
 * if, when, switch. With a `subject` (evaluated once), tests are matched against
 * it; without, each `when` is a condition. Arms are tried in order, so a `default`
 * comes last. The `break` that ends a case is left out; one further in is a jump to
 * the label `switch`, which a block around the branch then has.
 */
export interface Branch extends Node<'Branch'> {
  readonly subject?: Expr;
  /** Kotlin `when (val x = …)`: the name that holds the subject. */
  readonly subjectName?: string;
  readonly arms: readonly Arm[];
}
export interface Arm {
  readonly span: Span;
  /** Any one suffices; none at all means else. */
  readonly tests: readonly Test[];
  /** Kotlin `… if guard ->`: must hold as well. */
  readonly guard?: Expr;
  readonly body: Block;
  /** A TypeScript case without break: control goes on into the next body. */
  readonly falls?: true;
}
/** `not` is Kotlin's `!is` and `!in`. */
export type Test =
  | { readonly when: Expr }
  | { readonly is: TypeRef; readonly not?: true }
  | { readonly in: Expr; readonly not?: true };

export interface Loop extends Node<'Loop'> {
  readonly label?: string;
  /** Absent for an endless loop. */
  readonly test?: Expr;
  readonly testFirst: boolean;
  /** `for (x in xs)`: what is iterated, and what each round binds. */
  readonly over?: { readonly bindings: readonly Binding[]; readonly source: Expr; readonly type?: TypeRef; readonly awaited?: true; readonly keys?: true };
  /** TypeScript `for (init; test; step)`. */
  readonly before?: readonly Stmt[];
  readonly step?: readonly Stmt[];
  readonly body: Block;
}

export interface Try extends Node<'Try'> {
  readonly body: Block;
  readonly catches: readonly Catch[];
  readonly last?: Block;
}
export interface Catch { readonly span: Span; readonly param?: string; readonly type?: TypeRef; readonly body: Block }

export interface Return extends Node<'Return'> {
  readonly value?: Expr;
  /** Kotlin `return@launch`: leaves that lambda, not the function. */
  readonly label?: string;
  /** Written by nobody: the last expression of a lambda or expression body. */
  readonly implicit?: true;
}

export interface Throw extends Node<'Throw'> { readonly value: Expr }
export interface Jump extends Node<'Jump'> { readonly to: 'break' | 'continue'; readonly label?: string }
export interface LocalDecl extends Node<'LocalDecl'> { readonly declaration: Class | Fn | TypeAlias }

// ---- Expressions --------------------------------------------------------

export type Expr =
  | Literal | Template | Name | This | Member | Index | Call | Lambda | FnRef | ObjectExpr | Assign
  | ListExpr | Unary | Binary | Is | Choose | Leave | Await | Emit | Cast | Unknown;

export interface Literal extends Node<'Literal'> {
  readonly value: string | number | bigint | boolean | null;
  /** TypeScript's `undefined` is the literal null with this mark. */
  readonly absent?: true;
}
/** A string with holes; its text pieces are `Literal` parts. */
export interface Template extends Node<'Template'> { readonly parts: readonly Expr[] }
export interface Name extends Node<'Name'> { readonly name: string }
export interface This extends Node<'This'> { readonly of: 'this' | 'super'; readonly label?: string }

export interface Member extends Node<'Member'> {
  readonly object: Expr;
  readonly name: string;
  readonly nameSpan: Span;
  /**
   * `?.`. In Kotlin (`step`) a null object makes this one step null; in TypeScript (`chain`) it makes the whole rest
   * of the chain null.
   */
  readonly safe?: 'step' | 'chain';
}

export interface Index extends Node<'Index'> { readonly object: Expr; readonly index: Expr; readonly safe?: 'chain' }

export interface Argument {
  readonly name?: string;
  readonly value: Expr;
  /** `*array` or `...array`. */
  readonly spread?: true;
  /** A Kotlin lambda after the parentheses. */
  readonly trailing?: true;
}

/** A call or a construction. A trailing lambda is simply the last argument. */
export interface Call extends Node<'Call'> {
  /** `Member` when there is a receiver, `Name` when it is bare, any expression otherwise. */
  readonly callee: Expr;
  readonly args: readonly Argument[];
  readonly typeArgs: readonly TypeRef[];
  /** TypeScript `new`; Kotlin cannot tell, so `resolve/` decides by the callee. */
  readonly construct?: true;
  /** TypeScript `f?.()`. */
  readonly safe?: 'chain';
  /** Kotlin `a to b`, written without dot and parentheses. */
  readonly infix?: true;
  /** A JSX element: callee is the tag, the first argument an `ObjectExpr` of its attributes, then its children. */
  readonly markup?: true;
}

/**
 * In Kotlin, a `return` without label leaves the function around a lambda, but only the function itself where that is an
 * anonymous `fun (…)`: its `fn` has a `headSpan`, a lambda's has none.
 */
export interface Lambda extends Node<'Lambda'> { readonly fn: Fn; readonly label?: string }
/** Kotlin `::f`, `x::f`, `T::f`; `T::class` is a `Member` named `class`. */
export interface FnRef extends Node<'FnRef'> { readonly object?: Expr; readonly name: string }
/** `object : T {}`, a class expression, or a TypeScript object literal; plain values are fields, methods are functions. */
export interface ObjectExpr extends Node<'ObjectExpr'> { readonly body: Class }
/** An array literal; Kotlin's `listOf` and friends are calls. */
export interface ListExpr extends Node<'ListExpr'> { readonly items: readonly Expr[] }
export interface Unary extends Node<'Unary'> { readonly op: '!' | '-' | '+' | '~' | '!!' | 'typeof' | 'void' | 'delete' | '...'; readonly value: Expr }
export interface Binary extends Node<'Binary'> {
  readonly op: BinaryOp;
  readonly left: Expr;
  /** Not evaluated when `&&`, `||` or `??` (Kotlin's elvis) is settled by the left. */
  readonly right: Expr;
}
export type BinaryOp =
  | '+' | '-' | '*' | '/' | '%' | '**' | '&' | '|' | '^' | '<<' | '>>' | '>>>'
  /** Identity and equality of both languages fall together: `===` is `==`, `!==` is `!=`. */
  | '==' | '!=' | '<' | '<=' | '>' | '>=' | '&&' | '||' | '??' | 'in' | '..' | '..<' | ',';
export interface Is extends Node<'Is'> { readonly value: Expr; readonly type: TypeRef; readonly not?: true }
/** A branch that yields a value: TypeScript's `a ? b : c`, Kotlin's if, when and try as expressions. */
export interface Choose extends Node<'Choose'> { readonly branch: Branch | Try }
/** A way out in value position: Kotlin `x ?: return`. Never yields. */
export interface Leave extends Node<'Leave'> { readonly by: Return | Throw | Jump }
export interface Await extends Node<'Await'> { readonly value: Expr }
/** A generator's `yield` and `yield*` (`all`). */
export interface Emit extends Node<'Emit'> { readonly value?: Expr; readonly all?: true }
export interface Cast extends Node<'Cast'> { readonly value: Expr; readonly type: TypeRef; readonly safe?: true }
export interface Unknown extends Node<'Unknown'> { readonly children: readonly Expr[] }

/** Anything in the tree that has a kind. */
export type AnyNode = File | Import | Declaration | EnumEntry | Annotation | Param | Stmt | Expr;
