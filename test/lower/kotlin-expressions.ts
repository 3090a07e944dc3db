/** Expressions and what each lowers to. The sources are statements of a function. */
import type { Construct } from './kotlin-construct.js';

export const expressions: readonly Construct[] = [
  {
    name: 'integers in all their spellings',
    source: 'use(1, 1_000, 42L, 0xFF, 0b1010_1010, 7u, 0xFFuL, 0xFFFF_FFFF)',
    model: '(do (call use 1 1000 42 255 170 7 255 4294967295))',
  },
  {
    name: 'a whole number beyond the doubles',
    source: 'use(0x0000_1000_8000_0080, 0x7FFF_FFFF_FFFF_FFFF, 9007199254740993L)',
    model: '(do (call use 17594333528192 9223372036854775807n 9007199254740993n))',
  },
  {
    name: 'fractions',
    source: 'use(1.5, .5, 2f, 1.5e3, 1e-2F, 3F)',
    model: '(do (call use 1.5 0.5 2 1500 0.01 3))',
  },
  {
    name: 'characters',
    source: 'use(\'a\', \'\\n\', \'\\\'\', \'\\u0041\', \'"\')',
    model: '(do (call use "a" "\\n" "\'" "A" "\\""))',
  },
  {
    name: 'words',
    source: 'use(true, false, null)',
    model: '(do (call use true false null))',
  },
  {
    name: 'strings and their escapes',
    source: 'use("", "a\\tb\\"c\\\\", "\\u00e9\\$x")',
    model: '(do (call use "" "a\\tb\\"c\\\\" "é$x"))',
  },
  {
    name: 'raw strings keep what is written',
    source: 'use("""a\\n"b"\n  c""", """"quoted"""")',
    model: '(do (call use "a\\\\n\\"b\\"\\n c" "\\"quoted\\""))',
  },
  {
    name: 'templates',
    source: 'use("$a b ${c.d()}${e}", "$this", "a$", "${"in ${n}"}")',
    model: '(do (call use (template a " b " (call (. c d)) e) (template this) "a$" (template (template "in " n))))',
  },
  {
    name: 'names in a template end where the word ends',
    source: 'use("$a.b", "${a}b", "$a`b")',
    model: '(do (call use (template a ".b") (template a "b") (template a "`b")))',
  },
  {
    name: 'raw templates',
    source: 'use("""x $a ${b + "c"}""")',
    model: '(do (call use (template "x " a " " (+ b "c"))))',
  },
  {
    name: 'several dollars',
    source: 'use($$"a $b $$c", $$$"""$$ $$${d}""")',
    model: '(do (call use (template "a $b " c) (template "$$ " d)))',
  },
  {
    name: 'names in backticks',
    source: 'use(`a b`, `when`.`is`())',
    model: '(do (call use a b (call (. when is))))',
  },
  {
    name: 'this and super, labelled',
    source: 'use(this, this@Outer, super.f(), super<Base>.g(), super@Outer.h())',
    model: '(do (call use this this@Outer (call (. super f)) (call (. super g)) (call (. super@Outer h))))',
  },
  {
    name: 'member, safe member, asserted',
    source: 'use(a.b, a?.b, a!!.b, a?.b?.c)',
    model: '(do (call use (. a b) (.? a b) (. (!! a) b) (.? (.? a b) c)))',
  },
  {
    name: 'calls with and without receiver',
    source: 'f(); a.f(1); a?.f(1, 2); f()(3)',
    model: '(do (call f)) (do (call (. a f) 1)) (do (call (.? a f) 1 2)) (do (call (call f) 3))',
  },
  {
    name: 'named, spread and trailing arguments',
    source: 'f(1, size = 2, *rest) { g() }',
    model: '(do (call f 1 (size: 2) (... rest) (trailing (lambda () (return implicit (call g))))))',
  },
  {
    name: 'a trailing lambda alone',
    source: 'launch { f() }',
    model: '(do (call launch (trailing (lambda () (return implicit (call f))))))',
  },
  {
    name: 'two trailing lambdas',
    source: 'f { 1 } { 2 }',
    model: '(do (call f (trailing (lambda () (return implicit 1))) (trailing (lambda () (return implicit 2)))))',
  },
  {
    name: 'a labelled trailing lambda',
    source: 'f(1) here@{ return@here }',
    model: '(do (call f 1 (trailing (lambda@here () (return@here)))))',
  },
  {
    name: 'type arguments',
    source: 'listOf<Int>(); f<A, List<B?>>(1); g<T> { it }; h<*>()',
    model: [
      '(do (call listOf <number>)) (do (call f <A, list<B?>> 1))',
      '(do (call g <T> (trailing (lambda ((it implicit)) (return implicit it))))) (do (call h <any?>))',
    ],
  },
  {
    name: 'less-than is no type argument',
    source: 'use(a < b, c); use((a < b) == (c > (d))); if (a < b && c > d) f()',
    model: '(do (call use (< a b) c)) (do (call use (== (< a b) (> c d)))) (if (when (&& (< a b) (> c d)) (do (call f))))',
  },
  {
    name: 'a call over several lines',
    source: 'a\n    .b()\n    ?.c { d() }\n    ?: return',
    model: '(do (?? (call (.? (call (. a b)) c) (trailing (lambda () (return implicit (call d))))) (leave (return))))',
  },
  {
    name: 'indexing',
    source: 'use(a[1], a[i, j], a?.b[0])',
    model: '(do (call use (index a 1) (index a (list i j)) (index (.? a b) 0)))',
  },
  {
    name: 'arithmetic binds as in the language',
    source: 'use(a + b * c - d % e / f, -a + +b, !c)',
    model: '(do (call use (- (+ a (* b c)) (/ (% d e) f)) (+ (- a) (+ b)) (! c)))',
  },
  {
    name: 'comparison and logic',
    source: 'use(a < b && c >= d || e != f, a === b, a !== b, !!a)',
    model: '(do (call use (|| (&& (< a b) (>= c d)) (!= e f)) (== a b) (!= a b) (! (! a))))',
  },
  {
    name: 'bit operations are words',
    source: 'use(a shl 1 or (b and 0xFF) xor c, a ushr 2, a shr b, a.inv())',
    model: '(do (call use (^ (| (<< a 1) (& b 255)) c) (>>> a 2) (>> a b) (call (. a inv))))',
  },
  {
    name: 'infix calls',
    source: 'use(a to b, 0 until n step 2, a.b matches c)',
    model: [
      '(do (call use (call infix (. a to) b) (call infix (. (call infix (. 0 until) n) step) 2) (call infix (.',
      '(. a b) matches) c)))',
    ],
  },
  {
    name: 'ranges',
    source: 'use(1..9, 0..<n, 9 downTo 1)',
    model: '(do (call use (.. 1 9) (..< 0 n) (call infix (. 9 downTo) 1)))',
  },
  {
    name: 'membership and its negation',
    source: 'use(a in b, a !in b)',
    model: '(do (call use (in a b) (! (in a b))))',
  },
  {
    name: 'type tests and casts',
    source: 'use(a is B, a !is B?, a as B<C>, a as? B)',
    model: '(do (call use (is a B) (!is a B?) (as a B<C>) (as? a B)))',
  },
  {
    name: 'elvis',
    source: 'use(a ?: b ?: c); val x = a ?: throw E(); val y = b ?: return; for (z in zs) use(z ?: continue)',
    model: [
      '(do (call use (?? (?? a b) c))) (let x (?? a (leave (throw (call E))))) (let y (?? b (leave (return))))',
      '(loop (over z zs) (do (call use (?? z (leave (continue))))))',
    ],
  },
  {
    name: 'steps',
    source: 'i++; --j; use(k++, -k--)',
    model: '(+= postfix i 1) (-= j 1) (do (call use (+= postfix k 1) (- (-= postfix k 1))))',
  },
  {
    name: 'function references',
    source: 'use(::f, a::f, A::f, A?::f, this::f, ::A, a.b::c)',
    model: '(do (call use (:: f) (:: a f) (:: A f) (:: A f) (:: this f) (:: A) (:: (. a b) c)))',
  },
  {
    name: 'class references',
    source: 'use(A::class, A::class.java, a::class, Array<Int>::class)',
    model: '(do (call use (. A class) (. (. A class) java) (. a class) (. Array class)))',
  },
  {
    name: 'if as a value',
    source: 'val x = if (a) b else c',
    model: '(let x (choose (if (when a (yield b)) (else (yield c)))))',
  },
  {
    name: 'if-else-if as a value, with blocks',
    source: 'val x = if (a) { f(); 1 } else if (b) 2 else { g() }',
    model: '(let x (choose (if (when a (do (call f)) (yield 1)) (when b (yield 2)) (else (yield (call g))))))',
  },
  {
    name: 'when as a value',
    source: 'val x = when (a) { 1, 2 -> b; in 3..4 -> c; !in d -> e; is F -> g; !is H -> i; else -> { j(); k } }',
    model: [
      '(let x (choose (match a (when (any 1 2) (yield b)) (when (in (.. 3 4)) (yield c)) (when (!in d) (yield e)) (when',
      '(is F) (yield g)) (when (!is H) (yield i)) (else (do (call j)) (yield k)))))',
    ],
  },
  {
    name: 'when without subject',
    source: 'val x = when { a -> 1; b && c -> { 2 } else -> throw E() }',
    model: '(let x (choose (if (when a (yield 1)) (when (&& b c) (yield 2)) (else (throw (call E))))))',
  },
  {
    name: 'when with a named subject and guards',
    source: 'val x = when (val s = f()) { is A if s.ok -> 1; else if b -> 2; else -> 3 }',
    model: '(let x (choose (match s = (call f) (when (is A) (guard (. s ok)) (yield 1)) (else (guard b) (yield 2)) (else (yield 3)))))',
  },
  {
    name: 'try as a value',
    source: 'val x = try { f() } catch (e: A) { null } catch (_: B) { return } finally { g() }',
    model: '(let x (choose (try (yield (call f)) (catch e : A (yield null)) (catch _ : B (return)) (finally (do (call g))))))',
  },
  {
    name: 'an arm that is no value',
    source: 'val x = if (a) { if (b) f() } else { for (c in d) g() }',
    model: '(let x (choose (if (when a (if (when b (do (call f))))) (else (loop (over c d) (do (call g)))))))',
  },
  {
    name: 'object expressions',
    source: 'use(object : A(1), B { override fun f() = 2; val c = 3 }, object { })',
    model: '(do (call use (object (: A (1)) (: B) (field c 3) (fn f [override] () (return implicit 2))) (object)))',
  },
  {
    name: 'object expression without body',
    source: 'use(object : A() {}, object : B {})',
    model: '(do (call use (object (: A ())) (object (: B))))',
  },
  {
    name: 'anonymous functions',
    source: 'use(fun(a: Int): Int { return a }, fun B.(c: D) = c)',
    model: '(do (call use (lambda ((a : number)) -> number (return a)) (lambda B. ((c : D)) (return implicit c))))',
  },
  {
    name: 'annotated and labelled expressions',
    source: 'use(@A f(), @B(1) g()); here@ f()',
    model: '(do (call use (call f) (call g))) (block@here (do (call f)))',
  },
  {
    name: 'parentheses leave no trace',
    source: 'use((a), ((b + c)) * d, (e).f())',
    model: '(do (call use a (* (+ b c) d) (call (. e f))))',
  },
  {
    name: 'a collection literal',
    source: '@A([1, 2]) fun local() = 0',
    model: '(local (fn local (@A (list 1 2)) () (return implicit 0)))',
  },
  {
    name: 'return in the place of a value',
    source: 'f(return, throw a)',
    model: '(do (call f (leave (return)) (leave (throw a))))',
  },
];

export const lambdas: readonly Construct[] = [
  {
    name: 'without parameters',
    source: 'f { g() }',
    model: '(do (call f (trailing (lambda () (return implicit (call g))))))',
  },
  {
    name: 'the last expression is the result',
    source: 'f { a(); b() }',
    model: '(do (call f (trailing (lambda () (do (call a)) (return implicit (call b))))))',
  },
  {
    name: 'what is no result at the end',
    source: 'f { if (a) b() }; f { for (a in b) c() }; f { a = b }; f { val a = b }; f { while (a) b() }',
    model: [
      '(do (call f (trailing (lambda () (if (when a (do (call b))))))))',
      '(do (call f (trailing (lambda () (loop (over a b) (do (call c))))))) (do (call f (trailing (lambda () (= a b)))))',
      '(do (call f (trailing (lambda () (let a b))))) (do (call f (trailing (lambda () (loop (while a) (do (call b)))))))',
    ],
  },
  {
    name: 'if, when and try are results at the end',
    source: 'f { if (a) b() else c() }; f { when (a) { 1 -> b() } }; f { try { a() } finally { b() } }',
    model: [
      '(do (call f (trailing (lambda () (return implicit (choose (if (when a (yield (call b))) (else (yield',
      '(call c))))))))))',
      '(do (call f (trailing (lambda () (return implicit (choose (match a (when 1 (yield (call b))))))))))',
      '(do (call f (trailing (lambda () (return implicit (choose (try (yield (call a)) (finally (do (call b))))))))))',
    ],
  },
  {
    name: 'ways out at the end',
    source: 'f { return@f 1 }; f { throw a }; f { return }',
    model: [
      '(do (call f (trailing (lambda () (return@f 1))))) (do (call f (trailing (lambda () (throw a)))))',
      '(do (call f (trailing (lambda () (return)))))',
    ],
  },
  {
    name: 'with parameters',
    source: 'f { a -> b }; f { a: Int, b: List<C> -> a }; f { -> a }; f { _, b -> b }',
    model: [
      '(do (call f (trailing (lambda (a) (return implicit b)))))',
      '(do (call f (trailing (lambda ((a : number) (b : list<C>)) (return implicit a)))))',
      '(do (call f (trailing (lambda () (return implicit a)))))',
      '(do (call f (trailing (lambda (_ b) (return implicit b)))))',
    ],
  },
  {
    name: 'destructured parameters',
    source: 'f { (a, _, b) -> a }; f { (a, b): P<A, B>, c -> c }; f { [a, b] -> a }; f { (val a, val b = c) -> a }',
    model: [
      '(do (call f (trailing (lambda (((a at 0) (b at 2))) (return implicit a)))))',
      '(do (call f (trailing (lambda ((((a at 0) (b at 1)) : P<A, B>) c) (return implicit c)))))',
      '(do (call f (trailing (lambda (((a at 0) (b at 1))) (return implicit a)))))',
      '(do (call f (trailing (lambda (((a at a) (b at c))) (return implicit a)))))',
    ],
  },
  {
    name: 'a parameter of function type',
    source: 'f { a: (Int) -> Unit -> a(1) }',
    model: '(do (call f (trailing (lambda ((a : fun<number, void>)) (return implicit (call a 1))))))',
  },
  {
    name: 'it',
    source: 'f { it.a() }; f { g(it) { it } }',
    model: [
      '(do (call f (trailing (lambda ((it implicit)) (return implicit (call (. it a)))))))',
      '(do (call f (trailing (lambda ((it implicit)) (return implicit (call g it (trailing (lambda ((it implicit))',
      '(return implicit it)))))))))',
    ],
  },
  {
    name: 'it of a lambda further out',
    source: 'a?.let { run { f(it) } }; a.also { scope.launch { f(it) } }',
    model: [
      '(do (call (.? a let) (trailing (lambda ((it implicit)) (return implicit (call run (trailing (lambda ()',
      '(return implicit (call f it))))))))))',
      '(do (call (. a also) (trailing (lambda ((it implicit)) (return implicit (call (. scope launch) (trailing (lambda',
      '() (return implicit (call f it))))))))))',
    ],
  },
  {
    name: 'a parameter called it',
    source: 'f { g { it -> h(it) } }',
    model: '(do (call f (trailing (lambda () (return implicit (call g (trailing (lambda (it) (return implicit (call h it))))))))))',
  },
  {
    name: 'labelled',
    source: 'f here@{ return@here }; val a = there@{ 1 }',
    model: '(do (call f (trailing (lambda@here () (return@here))))) (let a (lambda@there () (return implicit 1)))',
  },
  {
    name: 'in parentheses',
    source: 'f({ a }, b = { it })',
    model: '(do (call f (lambda () (return implicit a)) (b: (lambda ((it implicit)) (return implicit it)))))',
  },
  {
    name: 'empty',
    source: 'f {}; f { /* nothing */ }',
    model: '(do (call f (trailing (lambda ())))) (do (call f (trailing (lambda ()))))',
  },
  {
    name: 'one that follows itself',
    source: 'val a = { b: Int -> { c: Int -> b + c } }',
    model: '(let a (lambda ((b : number)) (return implicit (lambda ((c : number)) (return implicit (+ b c))))))',
  },
  {
    name: 'a lambda in an arm',
    source: 'if (a) { b -> c } else d',
    model: '(if (when a (do (lambda (b) (return implicit c)))) (else (do d)))',
  },
];
