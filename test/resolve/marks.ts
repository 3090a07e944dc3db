/**
 * Reads cases from Markdown and holds the resolver's answers against the marks in their code.
 *
 * A heading `## …` is a case and says what it is about; each fenced block under it is a file (`kotlin` or `ts`, with a
 * path after it where it matters). A mark is a comment right behind an expression, or behind a declared name:
 *
 *     gatt/*? BluetoothGatt *​/        its type as `show` prints it; `?` for unknown
 *     f(x)/*= Link.open, new Link *​/  what the call runs or builds; `…` when others may run too; `?` for unknown
 *     x/*# uuid 0000180d-… *​/         a constant: text, whole, bool, uuid, bytes, length, items or entries
 *     f/*> open, lambda *​/            the functions a value is; `?` for unknown
 *     fun onX/*& Type.onX *​/()        the catalogue callback that the function overrides; `-` for none
 *     fun f/*^ 2 *​/()                 how many calls may run the function, or the function expression that ends there
 *     val x/*% a, b *​/                what the variable, parameter or property may hold, as text; `?` when that is not all known
 *     x/*~ true *​/                    whether it is the same object as the next one so marked
 */
import { readFileSync } from 'node:fs';
import { lowerKotlin } from '../../server/frontend/kotlin/index.js';
import { lowerTypeScript } from '../../server/frontend/typescript/index.js';
import type { AnyNode, Call, Expr, File, Fn } from '../../server/ir/ir.js';
import { walk } from '../../server/ir/walk.js';
import { link, resolver, show, type Resolver } from '../../server/resolve/index.js';

export interface Case {
  readonly title: string;
  readonly files: readonly { readonly path: string; readonly text: string }[];
}

export interface Checked {
  readonly mark: string;
  readonly expected: string;
  readonly actual: string;
}

export function readCases(path: URL): Case[] {
  const cases: { title: string; files: { path: string; text: string }[] }[] = [];
  const lines = readFileSync(path, 'utf8').split('\n');
  for (let i = 0; i < lines.length; i++) {
    const line = lines[i]!;
    if (line.startsWith('## ')) cases.push({ title: line.slice(3), files: [] });
    const fence = /^```(kotlin|tsx?)(?: (\S+))?$/.exec(line);
    const current = cases.at(-1);
    if (fence === null || current === undefined) continue;
    const end = lines.indexOf('```', i + 1);
    const ending = fence[1] === 'kotlin' ? 'kt' : fence[1]!;
    current.files.push({ path: fence[2] ?? `main${current.files.length}.${ending}`, text: lines.slice(i + 1, end).join('\n') });
    i = end;
  }
  return cases;
}

export function lower({ path, text }: { readonly path: string; readonly text: string }): File {
  return path.endsWith('.kt') ? lowerKotlin(text, path) : lowerTypeScript(text, path);
}

const MARK = /\/\*([?=#>&~^%]) (.*?) \*\//g;

/** Every mark of a case, with what the resolver says at its place. */
export function check(one: Case): Checked[] {
  const files = one.files.map(lower);
  const asked = resolver(link(files));
  const checked: Checked[] = [];
  let pending: { readonly expr: Expr; readonly expected: string } | undefined;
  files.forEach((file, i) => {
    const { text } = one.files[i]!;
    for (const match of text.matchAll(MARK)) {
      const [, sign, expected] = match as unknown as [string, string, string];
      const mark = `${file.path}:${text.slice(0, match.index).split('\n').length} ${match[0]}`;
      const end = text.slice(0, match.index).trimEnd().length;
      if (sign === '~') {
        const expr = exprEndingAt(file, end);
        if (expr === undefined) throw new Error(`no expression ends at ${mark}`);
        if (pending === undefined) {
          pending = { expr, expected };
        } else {
          checked.push({ mark, expected, actual: String(asked.sameObject(pending.expr, expr) ?? '?') });
          pending = undefined;
        }
        continue;
      }
      checked.push({ mark, expected, actual: answer(asked, { file, text }, end, sign, expected, mark) });
    }
  });
  return checked;
}

interface Source {
  readonly file: File;
  readonly text: string;
}

function answer(asked: Resolver, { file, text }: Source, end: number, sign: string, expected: string, mark: string): string {
  if (sign === '^') {
    const fn = fnNamedAt(file, end) ?? lambdaEndingAt(file, end);
    if (fn === undefined) throw new Error(`no function ends at ${mark}`);
    return String(asked.callersOf(fn).length);
  }
  if (sign === '%') return heldText(asked, file, text, end, mark);
  if (sign === '&') {
    const fn = fnNamedAt(file, end);
    const callback = fn && asked.isPlatformCallback(fn);
    return callback === undefined ? '-' : `${callback.type}.${callback.member.name}`;
  }
  const expr = exprEndingAt(file, end, sign === '=' ? CALLS : MARKED);
  if (expr === undefined) {
    const decl = sign === '?' ? declaredAt(asked, file, end) : undefined;
    if (decl === undefined) throw new Error(`no expression ends at ${mark}`);
    return decl;
  }
  switch (sign) {
    case '?': return show(asked.typeOf(expr));
    case '=': return calleeText(asked, expr as Call);
    case '>': return asked.functionValue(expr)?.map((fn) => fnText(asked, fn)).join(', ') ?? '?';
    default: return constantText(asked, expr, expected.split(' ')[0]!);
  }
}

// ---- Places -------------------------------------------------------------------

/** The outermost expression that ends at an offset, but for operators, whose last operand is meant. */
function exprEndingAt(file: File, end: number, kinds: ReadonlySet<string> = MARKED): Expr | undefined {
  let found: Expr | undefined;
  walk(file, (node) => {
    if (found !== undefined || node.span.end !== end || !isOneOf(node, kinds) || isArrow(node)) return;
    found = node;
  });
  return found;
}

const MARKED = new Set([
  'Literal', 'Template', 'Name', 'This', 'Member', 'Index', 'Call', 'Lambda', 'FnRef', 'ObjectExpr', 'ListExpr', 'Unary', 'Choose', 'Await',
]);

const CALLS = new Set(['Call']);

function isOneOf(node: AnyNode, kinds: ReadonlySet<string>): node is Expr {
  return kinds.has(node.kind);
}

/** An arrow without braces ends where its body does; the body is meant. */
function isArrow(node: Expr): boolean {
  return node.kind === 'Lambda' && node.fn.body?.stmts.length === 1 && node.fn.body.stmts[0]!.span.end === node.span.end;
}

function fnNamedAt(file: File, end: number): Fn | undefined {
  let found: Fn | undefined;
  walk(file, (node) => {
    if (node.kind === 'Fn' && (node.nameSpan?.end === end || (node.nameSpan === undefined && node.body?.span.start === end))) found ??= node;
  });
  return found;
}

function lambdaEndingAt(file: File, end: number): Fn | undefined {
  let found: Fn | undefined;
  walk(file, (node) => {
    if (node.kind === 'Lambda' && node.span.end === end) found ??= node.fn;
  });
  return found;
}

/** The variable, parameter or property whose name ends at the offset; of a property that a parameter declares, the property. */
function declEndingAt(asked: Resolver, file: File, end: number): ReturnType<Resolver['declFor']> {
  let found: ReturnType<Resolver['declFor']>;
  walk(file, (node) => {
    const decl = node.kind === 'Field' && node.nameSpan.end === end ? asked.declFor(node)
      : node.kind === 'Let' || node.kind === 'Loop' || node.kind === 'Param' ? bound(asked, node, end) : undefined;
    if (decl !== undefined && (found === undefined || decl.is === 'field')) found = decl;
  });
  return found;
}

function declaredAt(asked: Resolver, file: File, end: number): string | undefined {
  const decl = declEndingAt(asked, file, end);
  return decl && show(asked.typeOfDecl(decl));
}

function heldText(asked: Resolver, file: File, text: string, end: number, mark: string): string {
  const decl = declEndingAt(asked, file, end);
  if (decl === undefined) throw new Error(`nothing is declared at ${mark}`);
  const textOf = (value: Expr): string => (asked.program.fileOf(value) === file ? text.slice(value.span.start, value.span.end).replace(/\/\*.*?\*\//g, '') : '…');
  return asked.valuesOf(decl)?.map(textOf).join(', ') ?? '?';
}

function bound(asked: Resolver, node: AnyNode & { readonly kind: 'Let' | 'Loop' | 'Param' }, end: number): ReturnType<Resolver['declFor']> {
  const bindings = node.kind === 'Let' ? node.bindings : node.kind === 'Loop' ? node.over?.bindings ?? [] : node.pattern ?? [];
  const binding = bindings.find((each) => each.span.end === end);
  if (binding !== undefined) return asked.declFor(node, binding);
  return node.kind === 'Param' && node.name !== '' && node.span.start + node.name.length === end ? asked.declFor(node) : undefined;
}

// ---- Answers as text ----------------------------------------------------------

function calleeText(asked: Resolver, call: Call): string {
  const callee = asked.calleeOf(call);
  const members = callee.members.map((member) => (callee.owner === undefined ? member.name : `${callee.owner}.${member.name}`));
  const names = callee.constructs === undefined ? [...callee.fns.map((fn) => fnText(asked, fn)), ...new Set(members)] : [`new ${callee.constructs.name ?? ''}`];
  if (names.length === 0 && !callee.complete) return callee.value === undefined ? '?' : 'value …';
  return names.join(', ') + (callee.complete ? '' : ' …');
}

export function fnText(asked: Resolver, fn: Fn): string {
  if (fn.name === undefined) return 'lambda';
  const owner = asked.program.ownerOf(fn);
  if (owner === undefined) return fn.name;
  return `${owner.name ?? 'object'}.${fn.name}`;
}

function constantText(asked: Resolver, expr: Expr, kind: string): string {
  const { constants } = asked;
  const shown = (value: unknown): string => `${kind} ${value === undefined ? '?' : String(value)}`;
  switch (kind) {
    case 'text': return shown(constants.text(expr));
    case 'whole': return shown(constants.whole(expr));
    case 'bool': return shown(constants.bool(expr));
    case 'uuid': return shown(constants.uuid(expr));
    case 'bytes': return shown(constants.bytes(expr)?.join());
    case 'items': return shown(constants.items(expr)?.length);
    case 'entries': return shown(constants.entries(expr)?.map((entry) => entry.name).join());
    case 'length': {
      const range = constants.byteLength(expr);
      return shown(range === undefined ? undefined : range.min === range.max ? range.min : `${range.min}..${range.max}`);
    }
    default: throw new Error(`no such constant: ${kind}`);
  }
}
