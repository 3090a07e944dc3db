/**
 * Functions, classes, modules and types, and the model that each lowers to.
 * The model is written as it is printed, on one line.
 */
import type { Construct } from './typescript-construct.js';

export const declarations: readonly Construct[] = [
  // ---- Functions ---------------------------------------------------------
  {
    name: 'modifiers, parameters, result',
    source: 'export async function f<T>(a: T, b?: string, c = 1, ...d: T[]): Promise<void> {}',
    model: '(fn f <T> [async export] ((a : T) (b : string? optional) (c = 1) (d : list<T> ...)) -> Promise<void>)',
  },
  {
    name: 'an expression body is an implicit return',
    source: 'const f = (a) => a.b, g = () => ({}), h = async x => { await x; };',
    model: '(let f (lambda (a) (return implicit (. a b)))) (let g (lambda () (return implicit (object)))) (let h (lambda [async] (x) (do (await x))))',
  },
  {
    name: 'a function expression keeps its name',
    source: 'on(function handler() {});',
    model: '(do (call on (lambda handler ())))',
  },
  {
    name: 'destructured parameters',
    source: 'function f({ a, b: { c = 1 } }: Props, [d]) {}',
    model: '(fn f ((((a at a) (c at b.c = 1)) : Props) ((d at 0))))',
  },
  {
    name: 'overloads have no body',
    source: 'function f(a: string): void; function f(a: any) {}',
    model: '(fn f ((a : string)) -> void bodiless) (fn f ((a : any)))',
  },
  {
    name: 'a this parameter is a receiver',
    source: 'function f(this: Link, a: number) {}',
    model: '(fn Link. f ((a : number)))',
  },
  // ---- Classes -----------------------------------------------------------
  {
    name: 'heritage',
    source: 'class A<T> extends B<T> implements C, ns.D {}',
    model: '(class A <T> (: B<T>) (: C) (: ns.D))',
  },
  {
    name: 'a computed base keeps what it evaluates',
    source: 'class A extends mixin(Base) {}',
    model: '(class A (: mixin (Base)))',
  },
  {
    name: 'fields',
    source: 'class A { a = 1; readonly b?: string; private static c: number[] = []; declare d; }',
    model: '(class A (field var a 1) (field b : string?) (field var c : list<number> static [private] (list)) (field var d [declare]))',
  },
  {
    name: 'parameter properties',
    source: 'class A { constructor(private readonly a: X, public b = 1, c) { super(); } }',
    model: '(class A (field a : X from-param [private]) (field var b from-param) (fn constructor ((a : X property) (b property = 1) c) (do (call super))))',
  },
  {
    name: 'accessors side by side are one field',
    source: 'class A { get a(): number { return 1; } set a(v) {} static get b() { return 2; } }',
    model: '(class A (field var a : number (get a () -> number (return 1)) (set a (v))) (field b static (get b [static] () (return 2))))',
  },
  {
    name: 'methods, overloads, generators',
    source: 'abstract class A { m(): void; m() {} abstract n(): X; static async *g() {} [Symbol.iterator]() {} "q r"() {} }',
    model: '(class A [abstract] (fn m () -> void bodiless) (fn m ()) (fn n [abstract] () -> X bodiless) (fn g [async generator static] ()) (fn [Symbol.iterator] ()) (fn q r ()))',
  },
  {
    name: 'a static block runs at once',
    source: 'class A { static { init(); } }',
    model: `(class A (field '' static (call (lambda () (do (call init))))))`,
  },
  {
    name: 'decorators',
    source: '@Component({ tag: "x" }) class A { @Input() a; @on.click("b") m(@Inject(T) p) {} }',
    model: '(class A (@Component (object (field var tag "x"))) (field var a @Input) (fn m (@click "b") (p)))',
  },
  {
    name: 'a class expression',
    source: 'const A = class B extends C { m() {} };',
    model: '(let A (class B (: C) (fn m ())))',
  },
  {
    name: 'a computed member leaves the others uncertain',
    source: 'class A { [key()] = 1; [name](a) {} }',
    model: '(class A (fn [name] (a)) (... (unknown (call key) 1)) (... (unknown)))',
  },
  // ---- Interfaces, enums, aliases, namespaces ----------------------------
  {
    name: 'an interface',
    source: 'interface A<T> extends B, C<T> { a: T; readonly b?: number; m(x: string): void; (y): T; new (z): A<T>; [k: string]: T; get g(): X; }',
    model: '(interface A <T> (: B) (: C<T>) (field var a : T) (field b : number?) (field g : X (get g () -> X bodiless)) (fn constructor (z) -> A<T> bodiless) (fn m ((x : string)) -> void bodiless) (fn (y) -> T bodiless))',
  },
  {
    name: 'an enum',
    source: 'export const enum E { A, B = 1 << 2, "c-d" = "x" }',
    model: '(enum E [const export] (entry A) (entry B (<< 1 2)) (entry c-d "x"))',
  },
  {
    name: 'an alias',
    source: 'type A<T> = { a: T; m(): void } | null;',
    model: '(type A <T> any{(field var a : T); (fn m () -> void bodiless)}?)',
  },
  {
    name: 'a namespace is an object',
    source: 'namespace N { export const a = 1; export function f() {} start(); }',
    model: '(object N (field a [export] 1) (fn constructor () (do (call start))) (fn f [export] ()))',
  },
  {
    name: 'nested and dotted namespaces',
    source: 'declare namespace A.B { class C {} type D = string; }',
    model: '(object A [declare] (object B (class C) (type D string)))',
  },
  {
    name: 'global declarations stand at the top',
    source: 'declare global { interface Window { hive: Hive } var a: number; }',
    model: '(interface Window (field var hive : Hive)) (var a : number)',
  },
  {
    name: 'an ambient module keeps its imports',
    source: 'declare module "scale" { import { X } from "y"; export const x: X; }',
    model: '(import "y" X) (object scale [declare] (field x : X [export]))',
  },
  // ---- Imports and exports -----------------------------------------------
  {
    name: 'all forms of import',
    source: 'import a, { b, c as d, type E } from "./x"; import * as ns from "y"; import "z"; import type F from "w"; import g = require("q"); import h = ns.k;',
    model: '(import "./x" default as a) (import "./x" b) (import "./x" c as d) (import "./x" E) (import "y" * as ns) (import "z" *) (import "w" default as F) (import "q" * as g) (let h (. ns k))',
  },
  {
    name: 're-exports are imports',
    source: 'export * from "./a"; export * as b from "./b"; export { c, d as e } from "./c";',
    model: '(import "./a" *) (import "./b" * as b) (import "./c" c) (import "./c" d as e)',
  },
  {
    name: 'a default function, a default value',
    source: 'export default function () {}',
    model: '(fn [default export] ())',
  },
  {
    name: 'a default object',
    source: 'export default { a: 1 };',
    model: '(let exported default (object (field var a 1)))',
  },
  {
    name: 'export assignment',
    source: 'export = make();',
    model: '(let exported default (call make))',
  },
  // ---- Types -------------------------------------------------------------
  {
    name: 'plain ones',
    source: 'let a: number, b: string, c: boolean, d: void, e: any, f: unknown, g: never, h: object, i: undefined, j: null;',
    model: '(var a : number) (var b : string) (var c : boolean) (var d : void) (var e : any) (var f : any) (var g : void) (var h : any) (var i : void) (var j : void?)',
  },
  {
    name: 'collections',
    source: 'let a: string[], b: Array<X>, c: readonly X[], d: ReadonlyArray<X>, e: [X, y?: Y, ...Z[]], f: Set<X>, g: Map<K, V>, h: Record<K, V>, i: { [k: string]: V };',
    model: '(var a : list<string>) (var b : list<X>) (var c : list<X>) (var d : list<X>) (var e : list<X, Y?, Z>) (var f : set<X>) (var g : map<K, V>) (var h : map<K, V>) (var i : map<string, V>)',
  },
  {
    name: 'bytes',
    source: 'let a: Uint8Array, b: DataView, c: ArrayBuffer, d: BufferSource, e: Uint8Array<ArrayBuffer>;',
    model: '(var a : bytes) (var b : bytes) (var c : bytes) (var d : bytes) (var e : bytes)',
  },
  {
    name: 'null and undefined make it nullable',
    source: 'let a: X | null, b: X | undefined | null, c: X | Y | null, d: (X | null)[], e: null | undefined;',
    model: '(var a : X?) (var b : X?) (var c : |<X, Y>?) (var d : list<X?>) (var e : void?)',
  },
  {
    name: 'literal types fall together',
    source: 'let a: "x" | "y", b: 1 | 2 | null, c: true, d: `a${string}`, e: "x" | 1;',
    model: '(var a : string) (var b : number?) (var c : boolean) (var d : string) (var e : |<string, number>)',
  },
  {
    name: 'functions',
    source: 'let a: (x: number, y?: string) => Promise<void>, b: new () => X, c: { (x: X): Y }, d: (this: Link) => void;',
    model: '(var a : fun<number, string?, Promise<void>>) (var b : fun<X>) (var c : fun<X, Y>) (var d : Link.fun<void>)',
  },
  {
    name: 'qualified, imported, computed',
    source: 'let a: ns.X<Y>, b: import("m").Z, c: X["y"], d: typeof x, e: keyof X, f: A extends B ? C : D, g: { [K in X]: Y }, h: A & B;',
    model: '(var a : ns.X<Y>) (var b : Z) (var c : X["y"]) (var d : typeof x) (var e : string) (var f : any) (var g : map) (var h : &<A, B>)',
  },
  {
    name: 'predicates',
    source: 'function f(a): a is X {} function g(a): asserts a {}',
    model: '(fn f (a) -> boolean) (fn g (a) -> void)',
  },
];
