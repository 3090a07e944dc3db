/**
 * The outward face of a file: all that another file's verdict can depend on. It is made of the heads of declarations
 * (names, parameters, types, supertypes, constant values) and of what its functions do to their callers; the text of
 * bodies is not part of it.
 */
import { digest } from '../engine/hash.js';
import type { Class, Declaration, Field, File, Fn } from '../ir/ir.js';
import { findAll } from '../ir/walk.js';
import { print } from '../ir/print.js';

export interface Face {
  readonly digest: string;
  /** Every name that the file declares to others, and a digest of all heads that bear it. */
  readonly heads: ReadonlyMap<string, string>;
}

/**
 * @param effects a text that is equal for equal effects of the file's functions on their callers; without one, the
 *   whole program text of the file counts as its effects
 */
export function faceOf(file: File, effects: string | undefined): Face {
  const texts = new Map<string, string>();
  for (const [name, text] of headsOf(file)) texts.set(name, `${texts.get(name) ?? ''}\n${text}`);
  const heads = new Map([...texts].map(([name, text]) => [name, digest(text)]));
  const own = effects ?? print(file);
  return { heads, digest: digest([file.module, ...[...heads].flat(), own].join('\n')) };
}

/** Names whose heads are not the same in both faces; an absent face declares nothing. */
export function headsThatDiffer(a: Face | undefined, b: Face | undefined): ReadonlySet<string> {
  const names = new Set<string>();
  for (const name of [...(a?.heads.keys() ?? []), ...(b?.heads.keys() ?? [])]) {
    if (a?.heads.get(name) !== b?.heads.get(name)) names.add(name);
  }
  return names;
}

function* headsOf(file: File): Generator<[name: string, text: string]> {
  for (const declaration of file.declarations) yield* declared(declaration, '');
  for (const stmt of file.body.stmts) {
    if (stmt.kind !== 'Let') continue;
    for (const { name } of stmt.bindings) yield [name, print(stmt)];
  }
}

function* declared(declaration: Declaration, around: string): Generator<[name: string, text: string]> {
  // What is private decides about other files only through what the functions that use it do.
  if (declaration.kind !== 'TypeAlias' && declaration.modifiers.has('private')) return;
  switch (declaration.kind) {
    case 'Class': return yield* classHeads(declaration, around);
    case 'Fn': return yield [declaration.name ?? '', `${around} ${fnHead(declaration)}`];
    case 'Field': return yield [declaration.name, `${around} ${fieldHead(declaration)}`];
    case 'TypeAlias': return yield [declaration.name, `${around} ${print(declaration)}`];
  }
}

/** A member's head holds that of its class: whoever calls `close` on an interface cares when one more class has it. */
function* classHeads(cls: Class, around: string): Generator<[name: string, text: string]> {
  const bare: Class = { ...cls, constructors: [], fields: [], functions: [], classes: [], aliases: [] };
  const head = `${around} ${print(bare)}`;
  yield [cls.name ?? '', [head, ...cls.constructors.map(fnHead)].join('\n')];
  for (const member of [...cls.fields, ...cls.functions, ...cls.classes, ...cls.aliases]) yield* declared(member, head);
}

/** Where no result type is declared, the type is that of the values returned, so the body is part of the head. */
function fnHead(fn: Fn): string {
  const { body, ...head } = fn;
  const isInferred = body !== undefined && fn.result === undefined && findAll(body, 'Return').some((it) => it.value !== undefined);
  return print(isInferred ? fn : head);
}

/** A constant's value counts as well as its type, and a getter is a function. */
function fieldHead(field: Field): string {
  const { getter, setter, ...head } = field;
  const accessors = [getter, setter].flatMap((fn) => (fn === undefined ? [] : [fnHead(fn)]));
  return [print(head), ...accessors].join(' ');
}
