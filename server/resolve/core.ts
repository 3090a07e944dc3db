/**
 * What the modules of this room share: the program, the memory of answers, and the questions they ask each other.
 *
 * Each module answers a few of these questions as plain functions over a `Core`; `index.ts` puts them together. So the
 * modules can be mutually recursive without importing each other's state.
 */
import type { PlatformMember } from '../catalogue/types.js';
import type { AnyNode, Argument, Call, Class, Expr, Field, File, Fn, Lambda, Language, Member, Name, Param } from '../ir/ir.js';
import type { Decl, Resolver, Ty } from './api.js';
import type { Memo } from './memo.js';
import type { Reference } from './names.js';
import type { Linked } from './program.js';
import type { Bindings } from './types.js';

export interface Core extends Resolver {
  /** Replaced when the answers are taken over into the next program. */
  program: Linked;
  readonly memo: Memo;
  languageAt(node: AnyNode): Language;
  /** Whether a null somewhere before makes a member access null as well. */
  mayBeCutShort(member: Member): boolean;
  paramDecl(param: Param, fn: Fn): Decl;
  fieldDecl(field: Field): Decl;
  fnDecl(fn: Fn): Decl;
  /** What the place of an expression wants it to be: a parameter's type, a declared type. */
  expectedType(expr: Expr): Ty | undefined;
  /** What a call wants of one of its arguments. */
  wantedOf(call: Call, argument: Argument): Ty | undefined;
  memberOf(type: Ty, name: string, language: Language): Found | undefined;
  /** A catalogue method as a function value. */
  memberFunction(owner: Ty, member: PlatformMember): Ty;
  /** Whether something inside the node assigns a path (`a.b`) or what leads to it. */
  assignsPath(node: AnyNode, path: string): boolean;
  /** Whether a call yields the function it is given (`useCallback(f)`). */
  handsBack(call: Call): boolean;
  /** Whether somebody may call a function whom `callersOf` does not find: it is handed to code outside the program. */
  escapes(fn: Fn): boolean;
  functionsHeld(decl: Decl): readonly Fn[] | undefined;
  /** The function that a value of a type with one method stands for (SAM, call signature): as a `fun` type. */
  functionTypeOf(type: Ty): Ty | undefined;
  /** The receiver that the body of a function or lambda has besides `this` of its class. */
  receiverOf(fn: Fn): Ty | undefined;
  /** What a name or member access means, and how it was found. */
  referenceOf(expr: Name | Member): Reference | undefined;
  /** What a name means on the level of a file, once for each name. */
  fileNames(file: File, name: string, compute: () => readonly Found[]): readonly Found[];
  /** A class's members of a name, once for each name. */
  classNames(cls: Class, name: string, compute: () => Found | undefined): Found | undefined;
  /** How the callee of a call was found. */
  targetOf(call: Call): Target;
  /** Types that a name stands for at a place. */
  typeNamed(name: string, args: readonly Ty[], at: AnyNode): Ty | undefined;
  supertypesOf(type: Ty): readonly Ty[];
  superRefsOf(cls: Class): readonly Ty[];
  /** Type of the value that a bare name stands for at a place. */
  valueNamed(name: string, at: AnyNode): Ty | undefined;
  /** `this` of a class, with its own type parameters as arguments. */
  selfOf(cls: Class): Ty;
  /** Every lambda or reference that stands for a parameter at the calls that can be seen. */
  argumentsFor(param: Param): readonly Expr[] | undefined;
  lambdaType(lambda: Lambda): Ty | undefined;
}

/** What a name found, before a call's arguments choose among overloads. */
export interface Found {
  readonly decls: readonly Decl[];
  /** Members were found on this type; its arguments are put in for type parameters through `bindings`. */
  readonly on?: Ty;
  readonly bindings?: Bindings;
  /** `on` is a receiver that nobody wrote. */
  readonly implicit?: true;
}

/** The callee of a call, with overloads chosen. */
export interface Target {
  readonly fns: readonly Fn[];
  readonly members: readonly PlatformMember[];
  readonly found?: Found;
  readonly constructs?: Ty;
  /** The expression, parameter or field that holds the function called. */
  readonly value?: Decl | Expr;
  readonly valueType?: Ty;
  readonly receiver?: { readonly expr?: Expr; readonly ty?: Ty; readonly implicit?: true };
  readonly name?: string;
}
