/**
 * Expressions of TypeScript, JavaScript and JSX, and the model that each lowers to.
 * The model is written as it is printed, on one line.
 */
import type { Construct } from './typescript-construct.js';

export const expressions: readonly Construct[] = [
  // ---- Calls and access --------------------------------------------------
  {
    name: 'a call on a member',
    source: 'gatt.connect(1, name);',
    model: '(do (call (. gatt connect) 1 name))',
  },
  {
    name: 'a bare call and a call of a call',
    source: 'start()(2);',
    model: '(do (call (call start) 2))',
  },
  {
    name: 'construction with and without arguments',
    source: 'new Link(a); new ns.Link;',
    model: '(do (new Link a)) (do (new (. ns Link)))',
  },
  {
    name: 'spread arguments and type arguments',
    source: 'send<Reading>(...parts, last);',
    model: '(do (call send <Reading> (... parts) last))',
  },
  {
    name: 'optional chaining makes the rest of the chain optional',
    source: 'device.gatt?.services?.[0]?.(x).name;',
    model: '(do (. (call?.. (index?.. (.?.. (. device gatt) services) 0) x) name))',
  },
  {
    name: 'a non-null assertion',
    source: 'use(this.server!.device);',
    model: '(do (call use (. (!! (. this server)) device)))',
  },
  {
    name: 'super and this',
    source: 'class A extends B { m() { super.m(this); } }',
    model: '(class A (: B) (fn m () (do (call (. super m) this))))',
  },
  {
    name: 'an indexed access',
    source: 'use(table["key"][i]);',
    model: '(do (call use (index (index table "key") i)))',
  },
  {
    name: 'a private name',
    source: 'class A { #tail = 1; m() { use(this.#tail); } }',
    model: '(class A (field var #tail [private] 1) (fn m () (do (call use (. this #tail)))))',
  },
  {
    name: 'a tagged template is a call',
    source: 'css`a ${b} c`;',
    model: '(do (call css (template "a " b " c")))',
  },
  {
    name: 'a dynamic import is a call of import',
    source: 'import("./page").then(open);',
    model: '(do (call (. (call import "./page") then) open))',
  },
  {
    name: 'import.meta and new.target are members',
    source: 'use(import.meta.url); function F() { use(new.target); }',
    model: '(fn F () (do (call use (. new target)))) (do (call use (. (. import meta) url)))',
  },
  // ---- Literals ----------------------------------------------------------
  {
    name: 'strings, numbers, booleans, null',
    source: `use("a\\n", 'b', 0x10, 1_000, .5, true, false, null);`,
    model: '(do (call use "a\\n" "b" 16 1000 0.5 true false null))',
  },
  {
    name: 'undefined and void 0 are absent',
    source: 'use(undefined, void 0);',
    model: '(do (call use undefined undefined))',
  },
  {
    name: 'a bigint',
    source: 'use(0xffn);',
    model: '(do (call use 255n))',
  },
  {
    name: 'a template with holes',
    source: 'use(`a${b}${c}d`, `plain`);',
    model: '(do (call use (template "a" b c "d") "plain"))',
  },
  {
    name: 'a regular expression is unknown',
    source: 'use(/a[/]b/g);',
    model: '(do (call use (unknown)))',
  },
  {
    name: 'lists with holes and spread',
    source: 'use([1, , ...rest]);',
    model: '(do (call use (list 1 undefined (... rest))))',
  },
  // ---- Operators ---------------------------------------------------------
  {
    name: 'identity is equality',
    source: 'use(a === b, a == b, a !== b, a != b);',
    model: '(do (call use (== a b) (== a b) (!= a b) (!= a b)))',
  },
  {
    name: 'left-nested arithmetic',
    source: 'use(a + b * 2 - c);',
    model: '(do (call use (- (+ a (* b 2)) c)))',
  },
  {
    name: 'logic and fallback',
    source: 'use(a && b || c, d ?? e);',
    model: '(do (call use (|| (&& a b) c) (?? d e)))',
  },
  {
    name: 'instanceof is a test of the type',
    source: 'use(error instanceof DOMException, x instanceof ns.Y);',
    model: '(do (call use (is error DOMException) (is x ns.Y)))',
  },
  {
    name: 'in and comma',
    source: 'use("key" in record, (a, b));',
    model: '(do (call use (in "key" record) (, a b)))',
  },
  {
    name: 'unary operators',
    source: 'use(-a, +a, ~a, !a, typeof a, delete a.b, void a);',
    model: '(do (call use (- a) (+ a) (~ a) (! a) (typeof a) (delete (. a b)) (void a)))',
  },
  {
    name: 'casts; as const leaves no trace',
    source: 'use(a as Link, <Link>a, a satisfies Link, [1] as const);',
    model: '(do (call use (as a Link) (as a Link) (as a Link) (list 1)))',
  },
  {
    name: 'a conditional chain is one branch',
    source: 'use(a ? 1 : b ? 2 : 3);',
    model: '(do (call use (choose (if (when a (yield 1)) (when b (yield 2)) (else (yield 3))))))',
  },
  {
    name: 'assignment as a value',
    source: 'use(a = b, n++, --n, c ??= d);',
    model: '(do (call use (= a b) (+= postfix n 1) (-= n 1) (??= c d)))',
  },
  {
    name: 'await and yield',
    source: 'async function* f() { await a; const x = yield b; yield* c; }',
    model: '(fn f [async generator] () (do (await a)) (let x (emit b)) (do (emit-all c)))',
  },
  // ---- Assignments -------------------------------------------------------
  {
    name: 'compound and stepped',
    source: 'a = 1; a += 2; a **= 2; b.c ||= d; n++; --n;',
    model: '(= a 1) (+= a 2) (**= a 2) (||= (. b c) d) (+= postfix n 1) (-= n 1)',
  },
  {
    name: 'one part of a pattern is assigned that part',
    source: '({ server: this.server } = await connect()); [first] = list();',
    model: '(= (. this server) (. (await (call connect)) server)) (= first (index (call list) 0))',
  },
  {
    name: 'several parts are assigned something unknown',
    source: '[a, b] = [b, a];',
    model: '(= a (unknown)) (= b (unknown (list b a)))',
  },
  {
    name: 'in the place of a value a pattern is unknown',
    source: 'use([a, b] = f());',
    model: '(do (call use (unknown a b (call f))))',
  },
  // ---- Object literals ---------------------------------------------------
  {
    name: 'values, shorthand, methods, accessors, spread',
    source: 'use({ a: 1, b, "c-d": 2, 3: x, ["e"]: 4, m() {}, async *g() {}, get h() { return 1; }, set h(v) {}, ...rest });',
    model: '(do (call use (object (field var a 1) (field var b b) (field var c-d 2) (field var 3 x) (field var e 4) (field var h (get h () (return 1)) (set h (v))) (fn m ()) (fn g [async generator] ()) (... rest))))',
  },
  {
    name: 'a key that is a path keeps its text, and leaves the names uncertain',
    source: 'use({ [key]: value, a: 1 });',
    model: '(do (call use (object (field var [key] value) (field var a 1) (... (unknown)))))',
  },
  // ---- Markup ------------------------------------------------------------
  {
    name: 'an element is a call of its tag', path: 'x.tsx',
    source: 'use(<Scale unit="g" {...rest} live>{grams} kg<br /></Scale>);',
    model: '(do (call use (markup Scale (object (field unit "g") (field live true) (... rest)) grams "kg" (markup br (object)))))',
  },
  {
    name: 'handlers and conditions inside', path: 'x.jsx',
    source: 'const v = <ul>{items.map((i) => <li key={i} onClick={() => void open(i)}>{ok && <b>!</b>}</li>)}</ul>;',
    model: '(let v (markup ul (object) (call (. items map) (lambda (i) (return implicit (markup li (object (field key i) (field onClick (lambda () (do deliberate (call open i))))) (&& ok (markup b (object) "!"))))))))',
  },
  {
    name: 'fragments and dotted tags', path: 'x.tsx',
    source: 'use(<><ns.Item a:b="1" /></>);',
    model: `(do (call use (markup '' (object) (markup (. ns Item) (object (field a:b "1"))))))`,
  },
];
