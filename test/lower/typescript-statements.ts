/**
 * Statements, switches and damaged text, and the model that each lowers to.
 * The model is written as it is printed, on one line.
 */
import type { Construct } from './typescript-construct.js';

export const statements: readonly Construct[] = [
  // ---- Declarations of variables -----------------------------------------
  {
    name: 'const, let, var',
    source: 'const a: number = 1; let b; var c = 2, d = 3;',
    model: '(let a : number 1) (var b) (var c 2) (var d 3)',
  },
  {
    name: 'object pattern with defaults, renames, rest',
    source: 'const { a, b: c = 1, d: { e }, ...rest } = f();',
    model: '(let ((a at a) (c at b = 1) (e at d.e) (rest ...)) (call f))',
  },
  {
    name: 'list pattern with holes and nested defaults',
    source: 'const [a, , [b] = g(), ...rest] = f();',
    model: '(let ((a at 0) (at 2 = (call g)) (b at 2.0) (rest ...)) (call f))',
  },
  {
    name: 'using',
    source: 'using lock = take();',
    model: '(let scoped lock (call take))',
  },
  {
    name: 'exported',
    source: 'export const a = 1; export { b, c as d }; const b = 2, c = 3; export default b;',
    model: '(let exported a 1) (let exported d c) (let exported b 2) (let c 3) (let exported default b)',
  },
  // ---- Statements --------------------------------------------------------
  {
    name: 'if and else-if are one branch',
    source: 'if (a) b(); else if (c) { d(); } else e();',
    model: '(if (when a (do (call b))) (when c (do (call d))) (else (do (call e))))',
  },
  {
    name: 'a conditional as a statement is a branch',
    source: 'a ? b() : c();',
    model: '(if (when a (do (call b))) (else (do (call c))))',
  },
  {
    name: 'void marks a deliberate statement',
    source: 'void save(); const f = () => void save();',
    model: '(do deliberate (call save)) (let f (lambda () (do deliberate (call save))))',
  },
  {
    name: 'loops',
    source: 'while (a) b(); do c(); while (d); for (;;) e(); while (true) f();',
    model: '(loop (while a) (do (call b))) (loop (until-not d) (do (call c))) (loop (do (call e))) (loop (do (call f)))',
  },
  {
    name: 'a counted loop',
    source: 'for (let i = 0, n = 3; i < n; i++) use(i);',
    model: '(loop (before (var i 0) (var n 3)) (while (< i n)) (step (+= postfix i 1)) (do (call use i)))',
  },
  {
    name: 'for of, in, await',
    source: 'for (const x of xs) use(x); for (const k in o) use(k); async () => { for await (const [a, b] of c) use(a); };',
    model: '(loop (over x xs) (do (call use x))) (loop (over k keys o) (do (call use k))) (do (lambda [async] () (loop (over ((a at 0) (b at 1)) awaited c) (do (call use a)))))',
  },
  {
    name: 'labels',
    source: 'outer: for (const a of b) { inner: { if (a) break inner; continue outer; } }',
    model: '(loop@outer (over a b) (block@inner (if (when a (break@inner))) (continue@outer)))',
  },
  {
    name: 'try, catch, finally',
    source: 'try { a(); } catch (e) { b(e); } finally { c(); } try { a(); } catch { b(); }',
    model: '(try (do (call a)) (catch e (do (call b e))) (finally (do (call c)))) (try (do (call a)) (catch (do (call b))))',
  },
  {
    name: 'a caught pattern is declared in the handler',
    source: 'try { a(); } catch ({ message }) { use(message); }',
    model: '(try (do (call a)) (catch (var ((message at message))) (do (call use message))))',
  },
  {
    name: 'throw and return',
    source: 'function f() { if (a) throw new Error("x"); return; }',
    model: '(fn f () (if (when a (throw (new Error "x")))) (return))',
  },
  {
    name: 'a local function and class',
    source: 'function f() { function g() {} class C {} }',
    model: '(fn f () (local (fn g ())) (local (class C)))',
  },
  {
    name: 'empty statements leave no trace',
    source: ';;debugger;',
    model: '',
  },
  // ---- Switch ------------------------------------------------------------
  {
    name: 'cases that end in break, share a body, default',
    source: 'switch (x) { case 1: case 2: a(); break; default: b(); }',
    model: '(match x (when (any 1 2) (do (call a))) (else (do (call b))))',
  },
  {
    name: 'a case that falls into the next',
    source: 'switch (x) { case 1: a(); case 2: b(); break; case 3: return; }',
    model: '(match x (when 1 (do (call a)) falls) (when 2 (do (call b))) (when 3 (return)))',
  },
  {
    name: 'a break further in leaves the block around it',
    source: 'switch (x) { case 1: if (a) break; b(); break; case 2: c(); }',
    model: '(block@switch (match x (when 1 (if (when a (break@switch))) (do (call b))) (when 2 (do (call c)))))',
  },
  {
    name: 'a break inside a loop is that loop’s',
    source: 'switch (x) { case 1: for (;;) break; }',
    model: '(match x (when 1 (loop (break))))',
  },
  {
    name: 'a default in the middle is tried last',
    source: 'switch (x) { default: a(); break; case 1: b(); }',
    model: '(match x (when 1 (do (call b))) (else (do (call a))))',
  },
  {
    name: 'one that falls on keeps its place, with a guard nobody knows',
    source: 'switch (x) { default: a(); case 1: b(); }',
    model: '(match x (else (guard (unknown)) (do (call a)) falls) (when 1 (do (call b))))',
  },
  // ---- Damaged text ------------------------------------------------------
  {
    name: 'a member that is being typed',
    source: 'const a = gatt.\nuse(a);',
    model: '(let a (call (. gatt use) a))',
  },
  {
    name: 'a call that is not closed',
    source: 'function f() { gatt.read(a; }\nfunction g() {}',
    model: '(fn f () (do (call (. gatt read) a))) (fn g ())',
  },
  {
    name: 'a class that is not closed',
    source: 'class A { m() { use(1);',
    model: '(class A (fn m () (do (call use 1))))',
  },
];
