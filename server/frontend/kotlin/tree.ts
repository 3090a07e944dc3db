/**
 * Kotlin's syntax tree: what the grammar says, before the program model.
 *
 * It keeps what the model has other words for (parentheses, infix calls, labels,
 * companions), so that the parser decides grammar only and the `lower-*` modules
 * decide meaning only. Nothing outside this room sees it.
 */
import type { Span } from '../../ir/ir.js';

interface Node<K extends string> {
  readonly kind: K;
  readonly span: Span;
}

/** A name where it is written, backticks taken off. */
export interface Ident {
  readonly name: string;
  readonly span: Span;
}

export interface Tree {
  readonly module: string;
  readonly imports: readonly Import[];
  readonly declarations: readonly Declaration[];
}

export interface Import {
  readonly span: Span;
  readonly path: readonly string[];
  readonly star: boolean;
  readonly alias?: string;
}

// ---- Types --------------------------------------------------------------

export type Type = NamedType | FunctionType | IntersectionType | StarType | BrokenType;

export interface NamedType extends Node<'NamedType'> {
  /** Dotted, without arguments: `Outer.Inner`. */
  readonly name: string;
  readonly args: readonly Type[];
  readonly nullable: boolean;
}
export interface FunctionType extends Node<'FunctionType'> {
  readonly receiver?: Type;
  readonly params: readonly Type[];
  readonly result: Type;
  readonly suspend: boolean;
  readonly nullable: boolean;
}
export interface IntersectionType extends Node<'IntersectionType'> { readonly members: readonly Type[] }
export type StarType = Node<'StarType'>;
export type BrokenType = Node<'BrokenType'>;

// ---- Declarations -------------------------------------------------------

export type Declaration = ClassDecl | FunDecl | PropertyDecl | TypeAliasDecl | ConstructorDecl | InitBlock;

/** What stands before a declaration's keyword. */
export interface Modifiers {
  readonly words: readonly string[];
  readonly annotations: readonly Annotation[];
  /** Kotlin's context parameters; a context receiver has no name. */
  readonly context: readonly Parameter[];
  /** Where the first modifier word stands, if there is one. */
  readonly firstWord?: number;
}

export interface Annotation extends Node<'Annotation'> {
  readonly name: string;
  readonly args: readonly Argument[];
  /** The site of `@file:`, `@get:` and their kin. */
  readonly site?: string;
}

export interface ClassDecl extends Node<'ClassDecl'> {
  readonly keyword: 'class' | 'interface' | 'object';
  readonly name?: Ident;
  readonly modifiers: Modifiers;
  readonly typeParams: readonly string[];
  readonly primary?: PrimaryConstructor;
  readonly supertypes: readonly Supertype[];
  readonly entries: readonly EnumEntry[];
  readonly members: readonly Declaration[];
}
export interface PrimaryConstructor {
  readonly span: Span;
  readonly modifiers: Modifiers;
  readonly params: readonly Parameter[];
}
export interface Supertype {
  readonly type: Type;
  readonly args?: readonly Argument[];
  readonly by?: Expr;
}
export interface EnumEntry extends Node<'EnumEntry'> {
  readonly name: Ident;
  readonly args: readonly Argument[];
  readonly body?: ClassDecl;
}

export interface FunDecl extends Node<'FunDecl'> {
  /** Absent for an anonymous function. */
  readonly name?: Ident;
  readonly modifiers: Modifiers;
  readonly keywordStart: number;
  /** Where the parameter list or result type ends. */
  readonly headEnd: number;
  readonly typeParams: readonly string[];
  readonly receiver?: Type;
  readonly params: readonly Parameter[];
  readonly result?: Type;
  readonly body?: FunctionBody;
}
export type FunctionBody = Block | ExpressionBody;
export interface ExpressionBody extends Node<'ExpressionBody'> { readonly value: Expr }

export interface Parameter extends Node<'Parameter'> {
  readonly name: string;
  readonly modifiers: Modifiers;
  /** A constructor parameter that is also a property. */
  readonly property?: 'val' | 'var';
  readonly nameSpan: Span;
  readonly type?: Type;
  readonly defaultValue?: Expr;
}

export interface PropertyDecl extends Node<'PropertyDecl'> {
  readonly mutable: boolean;
  readonly modifiers: Modifiers;
  readonly receiver?: Type;
  readonly target: Ident | Destructuring;
  readonly type?: Type;
  readonly value?: Expr;
  /** `by` instead of `=`. */
  readonly delegated: boolean;
  readonly accessors: readonly Accessor[];
}
export interface Accessor extends Node<'Accessor'> {
  readonly which: 'get' | 'set';
  readonly nameSpan: Span;
  readonly modifiers: Modifiers;
  readonly params: readonly Parameter[];
  readonly result?: Type;
  readonly headEnd: number;
  readonly body?: FunctionBody;
}
/** `(a, b)`, or by name `(val a, val b = other)`. */
export interface Destructuring extends Node<'Destructuring'> { readonly names: readonly DestructuredName[] }
export interface DestructuredName {
  readonly name: string;
  readonly span: Span;
  readonly type?: Type;
  /** The property taken, where the pattern names properties; else the position counts. */
  readonly property?: string;
}

export interface TypeAliasDecl extends Node<'TypeAliasDecl'> {
  readonly name: Ident;
  readonly typeParams: readonly string[];
  readonly type: Type;
}
export interface ConstructorDecl extends Node<'ConstructorDecl'> {
  readonly modifiers: Modifiers;
  readonly keywordSpan: Span;
  readonly headEnd: number;
  readonly params: readonly Parameter[];
  readonly delegation?: ConstructorDelegation;
  readonly body?: Block;
}
export interface ConstructorDelegation extends Node<'ConstructorDelegation'> {
  readonly to: This;
  readonly args: readonly Argument[];
}
export interface InitBlock extends Node<'InitBlock'> { readonly body: Block }

// ---- Statements and expressions ----------------------------------------

export interface Block extends Node<'Block'> { readonly stmts: readonly Stmt[] }

export type Stmt = Expr | Declaration | Assignment;
/** What may follow `if (…)`, `else`, a loop's head or `->`. */
export type Body = Block | Stmt;

/** `a = b`, `a += b`; `op` lacks the equals sign. */
export interface Assignment extends Node<'Assignment'> {
  readonly target: Expr;
  readonly op?: string;
  readonly value: Expr;
}

export type Expr =
  | Name | Literal | Text | This | Paren | Call | Infix | Navigation | Index | Prefix | Postfix | Binary | IsCheck | AsCast
  | Reference | Lambda | FunDecl | ObjectLiteral | Collection | If | When | Try | For | While | Return | Throw | Jump
  | Labelled | Broken;

export interface Name extends Node<'Name'> { readonly name: string }
/** The text as written is read by the lowering. */
export interface Literal extends Node<'Literal'> { readonly of: 'number' | 'char' | 'word' }
/** A string; pieces are text as written, or the expressions in its holes. */
export interface Text extends Node<'Text'> {
  readonly raw: boolean;
  readonly parts: readonly (TextPiece | Expr)[];
}
export type TextPiece = Node<'TextPiece'>;
export interface This extends Node<'This'> {
  readonly of: 'this' | 'super';
  readonly label?: string;
}
export interface Paren extends Node<'Paren'> { readonly value: Expr }
export interface Argument {
  readonly name?: string;
  readonly value: Expr;
  readonly spread: boolean;
  readonly trailing: boolean;
}
export interface Call extends Node<'Call'> {
  readonly callee: Expr;
  readonly typeArgs: readonly Type[];
  /** Absent for a name with type arguments alone, which calls nothing. */
  readonly args?: readonly Argument[];
}
export interface Infix extends Node<'Infix'> {
  readonly left: Expr;
  readonly name: Ident;
  readonly right: Expr;
}
/** `a.b`, `a?.b`; the name is empty where none was typed yet. `a::class` has the name `class`. */
export interface Navigation extends Node<'Navigation'> {
  readonly object: Expr;
  readonly name: Ident;
  readonly safe: boolean;
}
export interface Index extends Node<'Index'> {
  readonly object: Expr;
  readonly indices: readonly Expr[];
}
export interface Prefix extends Node<'Prefix'> {
  readonly op: '-' | '+' | '!' | '++' | '--';
  readonly value: Expr;
}
export interface Postfix extends Node<'Postfix'> {
  readonly op: '!!' | '++' | '--';
  readonly value: Expr;
}
export interface Binary extends Node<'Binary'> {
  readonly op: string;
  readonly left: Expr;
  readonly right: Expr;
}
export interface IsCheck extends Node<'IsCheck'> {
  readonly value: Expr;
  readonly type: Type;
  readonly not: boolean;
}
export interface AsCast extends Node<'AsCast'> {
  readonly value: Expr;
  readonly type: Type;
  readonly safe: boolean;
}
/** `::f`, `x::f`. */
export interface Reference extends Node<'Reference'> {
  readonly object?: Expr;
  readonly name: string;
}
export interface Lambda extends Node<'Lambda'> {
  readonly label?: string;
  /** Absent where no arrow is written. */
  readonly params?: readonly LambdaParam[];
  readonly body: Block;
}
export interface LambdaParam {
  readonly span: Span;
  readonly target: Ident | Destructuring;
  readonly type?: Type;
}
export interface ObjectLiteral extends Node<'ObjectLiteral'> { readonly body: ClassDecl }
export interface Collection extends Node<'Collection'> { readonly items: readonly Expr[] }

/** A chain of `if … else if …` as one node; the last `else` is `otherwise`. */
export interface If extends Node<'If'> {
  readonly arms: readonly IfArm[];
  readonly otherwise?: { readonly span: Span; readonly body: Body };
}
export interface IfArm {
  readonly span: Span;
  readonly test: Expr;
  readonly body: Body;
}
export interface When extends Node<'When'> {
  readonly subject?: Expr;
  readonly subjectName?: string;
  readonly entries: readonly WhenEntry[];
}
export interface WhenEntry {
  readonly span: Span;
  readonly otherwise: boolean;
  readonly tests: readonly WhenTest[];
  readonly guard?: Expr;
  readonly body: Body;
}
export type WhenTest =
  | { readonly of: 'value'; readonly value: Expr }
  | { readonly of: 'is'; readonly type: Type; readonly not: boolean }
  | { readonly of: 'in'; readonly value: Expr; readonly not: boolean };
export interface Try extends Node<'Try'> {
  readonly body: Block;
  readonly catches: readonly Catch[];
  readonly last?: Block;
}
export interface Catch {
  readonly span: Span;
  readonly param?: Parameter;
  readonly body: Block;
}
export interface For extends Node<'For'> {
  readonly target?: Ident | Destructuring;
  readonly type?: Type;
  readonly source: Expr;
  readonly body: Body;
}
export interface While extends Node<'While'> {
  readonly test: Expr;
  readonly testFirst: boolean;
  readonly body: Body;
}
export interface Return extends Node<'Return'> {
  readonly label?: string;
  readonly value?: Expr;
}
export interface Throw extends Node<'Throw'> { readonly value: Expr }
export interface Jump extends Node<'Jump'> {
  readonly to: 'break' | 'continue';
  readonly label?: string;
}
export interface Labelled extends Node<'Labelled'> {
  readonly label: string;
  readonly body: Stmt;
}
/** What the parser could not make sense of, around what it could. */
export interface Broken extends Node<'Broken'> { readonly children: readonly Expr[] }

/** Whether a statement is also an expression. A function is one only without a name. */
export function isExpression(stmt: Body): stmt is Expr {
  switch (stmt.kind) {
    case 'Block': case 'Assignment': case 'ClassDecl': case 'PropertyDecl': case 'TypeAliasDecl': case 'ConstructorDecl':
    case 'InitBlock':
      return false;
    case 'FunDecl':
      return stmt.name === undefined;
    default:
      return true;
  }
}
