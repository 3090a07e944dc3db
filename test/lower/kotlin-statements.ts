/** Statements and what each lowers to. */
import type { Construct } from './kotlin-construct.js';

export const statements: readonly Construct[] = [
  {
    name: 'variables',
    source: 'val a = 1; var b: Int? = null; val c: String; val _ = f()',
    model: '(let a 1) (var b : number? null) (let c : string) (let () (call f))',
  },
  {
    name: 'a delegated variable',
    source: 'val a by lazy { f() }; var b: Int by state',
    model: '(let delegated a (call lazy (trailing (lambda () (return implicit (call f)))))) (var delegated b : number state)',
  },
  {
    name: 'destructuring',
    source: 'val (a, b) = c; var (d, _, e: Int) = f(); val [g, h] = i',
    model: '(let ((a at 0) (b at 1)) c) (var ((d at 0) (e at 2)) (call f)) (let ((g at 0) (h at 1)) i)',
  },
  {
    name: 'assignments',
    source: 'a = b; a.b = c; a?.b = c; a[1] = b; a += 1; a[b] -= 2; a *= b; a /= b; a %= b',
    model: '(= a b) (= (. a b) c) (= (.? a b) c) (= (index a 1) b) (+= a 1) (-= (index a b) 2) (*= a b) (/= a b) (%= a b)',
  },
  {
    name: 'if',
    source: 'if (a) b() else if (c) { d() } else e(); if (f) g(); if (h) else i()',
    model: [
      '(if (when a (do (call b))) (when c (do (call d))) (else (do (call e)))) (if (when f (do (call g))))',
      '(if (when h) (else (do (call i))))',
    ],
  },
  {
    name: 'if with assignments',
    source: 'if (a) b = 1 else c += 2',
    model: '(if (when a (= b 1)) (else (+= c 2)))',
  },
  {
    name: 'if over several lines',
    source: 'if (a)\n  b()\nelse\n  c()\nd()',
    model: '(if (when a (do (call b))) (else (do (call c)))) (do (call d))',
  },
  {
    name: 'when',
    source: 'when (a) { A, B -> f(); in c -> {}; is D -> e = 1; else -> return }',
    model: '(match a (when (any A B) (do (call f))) (when (in c)) (when (is D) (= e 1)) (else (return)))',
  },
  {
    name: 'when with nothing in it',
    source: 'when (a) { }; when { }',
    model: '(match a) (if)',
  },
  {
    name: 'try',
    source: 'try { a() } catch (e: E) { b() } finally { c() }',
    model: '(try (do (call a)) (catch e : E (do (call b))) (finally (do (call c))))',
  },
  {
    name: 'for',
    source: 'for (a in b) c(); for ((i, v: Int) in a.withIndex()) { f() }; for (x: Int in xs) {}',
    model: [
      '(loop (over a b) (do (call c))) (loop (over ((i at 0) (v at 1)) (call (. a withIndex))) (do (call f)))',
      '(loop (over x : number xs))',
    ],
  },
  {
    name: 'while and do',
    source: 'while (a) b(); do { c() } while (d); while (true) e(); do f() while (true)',
    model: '(loop (while a) (do (call b))) (loop (until-not d) (do (call c))) (loop (do (call e))) (loop (do (call f)))',
  },
  {
    name: 'loops without bodies',
    source: 'while (a); for (b in c);',
    model: '(loop (while a)) (loop (over b c))',
  },
  {
    name: 'labels',
    source: 'a@ for (b in c) { if (d) break@a; continue@a; break; continue }; x@ while (true) break@x',
    model: '(loop@a (over b c) (if (when d (break@a))) (continue@a) (break) (continue)) (loop@x (break@x))',
  },
  {
    name: 'a labelled call',
    source: 'here@ run { return@here }',
    model: '(block@here (do (call run (trailing (lambda () (return@here))))))',
  },
  {
    name: 'ways out',
    source: 'return; throw a',
    model: '(return) (throw a)',
  },
  {
    name: 'return over the line',
    source: 'return\na()',
    model: '(return) (do (call a))',
  },
  {
    name: 'a value is thrown away',
    source: 'a; a.b; a ?: b; 1',
    model: '(do a) (do (. a b)) (do (?? a b)) (do 1)',
  },
  {
    name: 'local functions and classes',
    source: 'fun f(a: Int) = a\nclass A(val b: Int); data class E(val g: Int)',
    model: [
      '(local (fn f ((a : number)) (return implicit a)))',
      '(local (class A (field b : number from-param) (fn constructor ((b : number property)) bodiless)))',
      '(local (class E [data] (field g : number from-param) (fn constructor ((g : number property)) bodiless)))',
    ],
  },
  {
    name: 'local function with modifiers',
    source: 'suspend fun f() {}; inline fun <reified T> T.g() = h<T>()',
    model: '(local (fn f [suspend] ())) (local (fn T. g <T> [inline] () (return implicit (call h <T>))))',
  },
  {
    name: 'annotated statement',
    source: '@Suppress("x") val a = 1; @B f()',
    model: '(let a 1) (do (call f))',
  },
  {
    name: 'soft keywords are names',
    source: 'value = data(open); inner.out(annotation); val set = get; by(where); init { a() }',
    model: [
      '(= value (call data open)) (do (call (. inner out) annotation)) (let set get) (do (call by where))',
      '(do (call init (trailing (lambda () (return implicit (call a))))))',
    ],
  },
  {
    name: 'semicolons',
    source: '; a(); ; b();',
    model: '(do (call a)) (do (call b))',
  },
  {
    name: 'comments between',
    source: 'a() // one\n/* two /* nested */ */ b()',
    model: '(do (call a)) (do (call b))',
  },
  {
    name: 'a block in parentheses is still a statement',
    source: '(if (a) b() else c())',
    model: '(if (when a (do (call b))) (else (do (call c))))',
  },
  {
    name: 'operators at the line end and start',
    source: 'val a = b +\n  c\nval d = e\n  && f\n  ?: g\n-h',
    model: '(let a (+ b c)) (let d (&& e (?? f g))) (do (- h))',
  },
  {
    name: 'a lambda on its own line, behind a name and behind arguments',
    source: 'f\n{ a }\ng()\n\n{ b }',
    model: '(do f) (do (lambda () (return implicit a))) (do (call g (trailing (lambda () (return implicit b)))))',
  },
];
