/**
 * Texts that nest or repeat one construct thousands of times: they must exhaust
 * neither the stack nor anybody's patience. Each is named by what it repeats.
 */
const TIMES = 5000;

/** Before, repeated, in the middle, repeated behind, after. */
const REPEATED: readonly (readonly [string, string, string?, string?, string?])[] = [
  ['fun f(){', '('], ['fun f(){', '(', 'a', ')', '}'], ['fun f(){', '{'], ['fun f(){', '{', '', '}', '}'], ['fun f(){', 'a{', '', '}', '}'],
  ['fun f(){', 'f('], ['fun f(){', 'a['], ['fun f(){', 'a<'], ['fun f(){', 'a<@X('], ['fun f(){', 'a<@X(b ', '1', ')T>1', '}'],
  ['fun f(){x=', '- ', '1}'], ['fun f(){x=', '!', 'a}'], ['fun f(){x=a', '+b', '}'], ['fun f(){a', '.b()', '}'], ['fun f(){a', '?:b', '}'],
  ['fun f(){a', ' to b', '}'], ['fun f(){', 'if(a)', 'b}'], ['fun f(){', 'if(a) b else ', 'c}'], ['fun f(){', 'when(a){1->'],
  ['fun f(){', 'when(@X('], ['', 'class A{'], ['val x=', 'object{val x=', '1'], ['', 'fun f(){'], ['val x:', '(', 'A'], ['val x:', '(A)->', 'B'],
  ['val x:', 'A<'], ['val x="', '${"', 'a'], ['val x=', '"${'], ['val x="""', '$$'], ['fun f(){', 'a@ ', 'b}'], ['fun f(){', 'return ', '}'],
  ['fun f(){', 'throw ', 'x}'], ['', '/*'], ['', '@A('], ['class A{', 'val x:Int @A(object{'], ['fun f(){a', '!!', '}'], ['', '`'], ['', '\''], ['', '"\n'],
  ['fun <', 'fun a<'], ['fun ', 'a.', 'b()'], ['fun f(){', '{(a),', '}'], ['fun f(){', 'try{'], ['fun f(){', 'for(a in '], ['', 'else '],
  ['enum class E{', 'A{'], ['class A:', 'B by object:'], ['', 'init{'], ['', 'context('], ['fun f(){val ', '('], ['fun f(){', '(val a='],
  ['fun f(){a', ' as B', '}'], ['fun f(){a', '::b', '}'], ['fun f(){', 'do ', '}'], ['', 'import '], ['', '}'], ['', 'fun f(){}'],
  ['fun f(){', 'fun f(){val x=1;'], ['class A:', 'B(object:'], ['val x', ' get() = ', '1'], ['fun f(){', 'a=', '1}'], ['class A where ', 'T:A,'],
];

/** Name and text. */
export const NESTINGS: readonly [string, string][] = REPEATED.map(([before, repeated, middle = '', behind = '', after = '']) => [
  `${repeated}${behind && ` … ${behind}`}`.replace('\n', '\\n'),
  before + repeated.repeat(TIMES) + middle + behind.repeat(TIMES) + after,
]);
