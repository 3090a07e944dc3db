/** Declarations and what each lowers to. */
import type { Construct } from './kotlin-construct.js';

export const declarations: readonly Construct[] = [
  {
    name: 'package and imports',
    source: 'package a.b.c\nimport d.E\nimport f.*\nimport g.H as I; import `in`.`is`.J',
    model: '(import "d" E) (import "f" *) (import "g" H as I) (import "in.is" J)',
  },
  {
    name: 'functions',
    source: 'fun a() {}\nfun b(x: Int, y: String? = null, vararg z: Long): Boolean = true\nfun c()',
    model: '(fn a ()) (fn b ((x : number) (y : string? = null) (z : number ...)) -> boolean (return implicit true)) (fn c () bodiless)',
  },
  {
    name: 'extension functions',
    source: [
      'fun A.b() {}',
      'fun A?.c() {}',
      'fun <T> List<T>.d(): T = e()',
      'fun A.B.f() {}',
      'fun (() -> Unit).g() {}',
      'fun @X A<B>.h() {}',
    ],
    model: [
      '(fn A. b ()) (fn A?. c ()) (fn list<T>. d <T> () -> T (return implicit (call e))) (fn A.B. f ())',
      '(fn fun<void>. g ()) (fn A<B>. h ())',
    ],
  },
  {
    name: 'type parameters and bounds',
    source: 'fun <T : A, reified R> f(): R where T : B, R : C = g()\nclass D<out E, in F : G<F>>',
    model: '(fn f <T, R> () -> R (return implicit (call g))) (class D <E, F>)',
  },
  {
    name: 'modifiers',
    source: [
      'private suspend inline fun a() {}',
      'internal open class B { protected abstract fun c(); operator infix tailrec external override fun d() }',
    ],
    model: [
      '(fn a [inline private suspend] ())',
      '(class B [internal open] (fn c [abstract protected] () bodiless) (fn d [external infix operator override tailrec]',
      '() bodiless))',
    ],
  },
  {
    name: 'expect and actual',
    source: 'expect fun a(): Int\nactual fun b() = 1',
    model: '(fn a [expect] () -> number bodiless) (fn b [actual] () (return implicit 1))',
  },
  {
    name: 'function types',
    source: 'fun f(a: () -> Unit, b: suspend (Int, x: A) -> B?, c: A.(B) -> C, d: (() -> Unit)?, e: ((A) -> B) -> (C) -> D) {}',
    model: [
      '(fn f ((a : fun<void>) (b : suspend fun<number, A, B?>) (c : A.fun<B, C>) (d : fun<void>?)',
      '(e : fun<fun<A, B>, fun<C, D>>)))',
    ],
  },
  {
    name: 'neutral types',
    source: [
      'fun f(a: Long, b: CharSequence, c: Unit, d: ByteArray, e: MutableList<Int>, g: Array<String>, h: IntArray,',
      '  i: Set<A>, j: HashMap<K, V>, k: Any?, l: kotlin.Int, m: java.util.HashMap<K, V>) {}',
    ],
    model: [
      '(fn f ((a : number) (b : string) (c : void) (d : bytes) (e : list<number>) (g : list<string>) (h : list<number>)',
      '(i : set<A>) (j : map<K, V>) (k : any?) (l : number) (m : map<K, V>)))',
    ],
  },
  {
    name: 'types as they are written',
    source: 'val a: A.B<C, *, in D, out E>? = f\nval b: T & Any = g\nval c: @X A = h\nval d: Map.Entry<K, V> = e',
    model: '(field a : A.B<C, any?, D, E>? f) (field b : &<T, any> g) (field c : A h) (field d : Map.Entry<K, V> e)',
  },
  {
    name: 'context parameters',
    source: 'context(a: A, _: B) private fun f(x: Int) {}\ncontext(c: C) val d: Int get() = 1',
    model: '(fn f [private] ((x : number) (a : A implicit) (_ : B implicit))) (field d : number (get d () (return implicit 1)))',
  },
  {
    name: 'properties',
    source: [
      'val a = 1',
      'private var b: Int? = null',
      'const val C = "x"',
      'lateinit var d: D',
      'val E.f get() = g',
      '@JvmField val h = i',
    ],
    model: [
      '(field a 1) (field var b : number? [private] null) (field C [const] "x") (field var d : D [lateinit])',
      '(field E. f (get f () (return implicit g))) (field h @JvmField i)',
    ],
  },
  {
    name: 'accessors',
    source: [
      'var a: Int = 1',
      '    get() = field',
      '    private set(value) { field = value }',
      'val b: Int get() { return 2 }',
      'var c = 3; internal set',
    ],
    model: [
      '(field var a : number 1 (get a () (return implicit field)) (set a [private] (value) (= field value)))',
      '(field b : number (get b () (return 2))) (field var c 3 (set c [internal] () bodiless))',
    ],
  },
  {
    name: 'delegated properties',
    source: 'val a by lazy { f() }\nval b: Int by lazy(NONE) { g }\nvar c by remember { h() }\nval d by e',
    model: [
      '(field a (get () (return implicit (call f)))) (field b : number (get () (return implicit g)))',
      '(field var c (by (call remember (trailing (lambda () (return implicit (call h))))))) (field d (by e))',
    ],
  },
  {
    name: 'an explicit backing field',
    source: 'val a: List<Int>\n    field = mutableListOf()\n    get() = field',
    model: '(field a : list<number> (call mutableListOf) (get a () (return implicit field)))',
  },
  {
    name: 'a class with a primary constructor',
    source: 'class A(a: Int, val b: Int = 1, private var c: List<D>, vararg e: F)',
    model: [
      '(class A (field b : number from-param) (field var c : list<D> from-param [private]) (fn constructor ((a : number)',
      '(b : number property = 1) (c : list<D> property) (e : F ...)) bodiless))',
    ],
  },
  {
    name: 'constructor modifiers and annotations',
    source: 'class A @Inject internal constructor(@B val c: D)\nclass E private constructor()',
    model: [
      '(class A (field c : D from-param @B) (fn constructor [internal] @Inject ((c : D property)) bodiless))',
      '(class E (fn constructor [private] () bodiless))',
    ],
  },
  {
    name: 'supertypes',
    source: 'class A : B(1), C, D<E> by f(), G by h { fun i() {} }\ninterface J : K, L',
    model: '(class A (: B (1)) (: C) (: D<E> by (call f)) (: G by h) (fn i ())) (interface J (: K) (: L))',
  },
  {
    name: 'init blocks',
    source: 'class A(b: Int) { init { f(b) }; val c = 1; init { g() } }\nclass D { init { h() } }',
    model: [
      '(class A (field c 1) (fn constructor ((b : number)) (block (do (call f b))) (block (do (call g)))))',
      '(class D (fn constructor () (block (do (call h)))))',
    ],
  },
  {
    name: 'secondary constructors',
    source: [
      'class A : B { constructor(a: Int) : super(a) { f() }',
      ' constructor() : this(1)',
      ' private constructor(b: C) }',
    ],
    model: [
      '(class A (: B) (fn constructor ((a : number)) (call super a) (do (call f))) (fn constructor ()',
      '(call this 1) bodiless) (fn constructor [private] ((b : C)) bodiless))',
    ],
  },
  {
    name: 'nested, inner, sealed, value',
    source: [
      'sealed class A { class B : A(); object C : A(); data object D : A(); inner class E }',
      '@JvmInline value class F(val g: Int)',
      'annotation class H(val i: Int)',
    ],
    model: [
      '(class A [sealed] (class B (: A ())) (object C (: A ())) (object D [data] (: A ())) (class E [inner]))',
      '(class F [value] @JvmInline (field g : number from-param) (fn constructor ((g : number property)) bodiless))',
      '(class H (field i : number from-param) (fn constructor ((i : number property)) bodiless))',
    ],
  },
  {
    name: 'interfaces',
    source: [
      'interface A { val b: Int; fun c(); fun d() = 1 }',
      'fun interface E { fun f(a: Int) }',
      'sealed interface G',
    ],
    model: [
      '(interface A (field b : number) (fn c () bodiless) (fn d () (return implicit 1)))',
      '(interface E (fn f ((a : number)) bodiless)) (interface G [sealed])',
    ],
  },
  {
    name: 'objects',
    source: 'object A : B { const val C = 1; fun d() {} }\nobject E',
    model: '(object A (: B) (field C [const] 1) (fn d ())) (object E)',
  },
  {
    name: 'companions',
    source: 'class A { companion object { const val B = 1; private fun c() {}; class D; init { e() } }; fun f() {} }',
    model: [
      '(class A (field B static [const] 1) (field \'\' static (call (lambda () (do (call e))))) (fn c [private static] ())',
      '(fn f ()) (class D))',
    ],
  },
  {
    name: 'a companion with a name and supertypes',
    source: 'class A { companion object F : G(1), H by i }',
    model: '(class A (field \'\' static 1) (field \'\' static i))',
  },
  {
    name: 'enums',
    source: [
      'enum class A { B, C }',
      'enum class D(val e: Int) { F(1), @X G(2) { override fun h() = 3 }, ; abstract fun h(): Int; companion object { fun i() {} } }',
      'enum class J { ; fun k() {} }',
    ],
    model: [
      '(enum A (entry B) (entry C))',
      '(enum D (entry F 1) (entry G 2 (object (fn h [override] () (return implicit 3)))) (field e : number from-param)',
      '(fn constructor ((e : number property)) bodiless) (fn h [abstract] () -> number bodiless) (fn i [static] ()))',
      '(enum J (fn k ()))',
    ],
  },
  {
    name: 'type aliases',
    source: 'typealias A = B\ntypealias C<T> = (T) -> D<T>\nprivate typealias E = F.G',
    model: '(type A B) (type C <T> fun<T, D<T>>) (type E F.G)',
  },
  {
    name: 'annotations',
    source: '@file:JvmName("X")\n@A @B(1, c = "d") @e.F @get:G @[H I(2)] class J',
    model: '(class J @A (@B 1 (c: "d")) @F @G @H (@I 2))',
  },
  {
    name: 'one-line bodies',
    source: 'class A { val b = 1; fun c() { d() }; private val e get() = f; class G { fun h() = i } }',
    model: [
      '(class A (field b 1) (field e [private] (get e () (return implicit f))) (fn c () (do (call d))) (class G (fn h ()',
      '(return implicit i))))',
    ],
  },
  {
    name: 'destructuring by name',
    source: 'fun f() { (val a, val b = c) = d }',
    model: '(fn f () (let ((a at a) (b at c)) d))',
  },
  {
    name: 'a shebang',
    source: '#!/usr/bin/env kotlin\nfun a() {}',
    model: '(fn a ())',
  },
  {
    name: 'soft keywords as names',
    source: [
      'class data(val value: Int) { fun get() = 1; fun init() {}; val field = 2 }',
      'fun context() = 1',
    ],
    model: [
      '(class data (field value : number from-param) (field field 2) (fn constructor',
      '((value : number property)) bodiless) (fn get () (return implicit 1)) (fn init ()))',
      '(fn context () (return implicit 1))',
    ],
  },
];
