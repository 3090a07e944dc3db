/**
 * The outward face of a file: all that another file's verdict can depend on. It is made of the heads of declarations
 * (names, parameters, types, supertypes, constant values) and of what its functions do to their callers; the text of
 * bodies is not part of it.
 */
import { digest } from '../engine/hash.js';
import { fingerprint } from '../ir/fingerprint.js';
import type { Class, Declaration, Field, File, Fn } from '../ir/ir.js';
import { findAll } from '../ir/walk.js';

export interface Face {
  readonly digest: string;
  /** Every name that the file declares to others, and the fingerprints of all heads that bear it. */
  readonly heads: ReadonlyMap<string, string>;
}

/**
 * @param effects a text that is equal for equal effects of the file's functions on their callers; without one, the
 *   whole program text of the file counts as its effects
 */
export function faceOf(file: File, effects: string | undefined): Face {
  return new LazyFace(file, effects);
}

/** Most faces are never looked at: only what was edited is compared with what it was. */
class LazyFace implements Face {
  private known: { readonly heads: ReadonlyMap<string, string>; readonly digest: string } | undefined;

  constructor(private readonly file: File, private readonly effects: string | undefined) {}

  get heads(): ReadonlyMap<string, string> {
    return this.read().heads;
  }

  get digest(): string {
    return this.read().digest;
  }

  private read() {
    return (this.known ??= readFace(this.file, this.effects));
  }
}

function readFace(file: File, effects: string | undefined): { heads: ReadonlyMap<string, string>; digest: string } {
  const heads = new Map<string, string>();
  for (const [name, head] of headsOf(file)) heads.set(name, `${heads.get(name) ?? ''}\n${head}`);
  const own = effects ?? fingerprint(file);
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

function* headsOf(file: File): Generator<[name: string, head: string]> {
  for (const declaration of file.declarations) yield* declared(declaration, '');
  for (const stmt of file.body.stmts) {
    if (stmt.kind !== 'Let') continue;
    for (const { name } of stmt.bindings) yield [name, fingerprint(stmt)];
  }
}

function* declared(declaration: Declaration, around: string): Generator<[name: string, head: string]> {
  // What is private decides about other files only through what the functions that use it do.
  if (declaration.kind !== 'TypeAlias' && declaration.modifiers.has('private')) return;
  switch (declaration.kind) {
    case 'Class': return yield* classHeads(declaration, around);
    case 'Fn': return yield [declaration.name ?? '', `${around} ${fnHead(declaration)}`];
    case 'Field': return yield [declaration.name, `${around} ${fieldHead(declaration)}`];
    case 'TypeAlias': return yield [declaration.name, `${around} ${fingerprint(declaration)}`];
  }
}

/** A member's head holds that of its class: whoever calls `close` on an interface cares when one more class has it. */
function* classHeads(cls: Class, around: string): Generator<[name: string, head: string]> {
  const bare: Class = { ...cls, constructors: [], fields: [], functions: [], classes: [], aliases: [] };
  const head = `${around} ${fingerprint(bare)}`;
  yield [cls.name ?? '', [head, ...cls.constructors.map(fnHead)].join('\n')];
  for (const member of [...cls.fields, ...cls.functions, ...cls.classes, ...cls.aliases]) yield* declared(member, head);
}

/** Where no result type is declared, the type is that of the values returned, so the body is part of the head. */
function fnHead(fn: Fn): string {
  const { body, ...head } = fn;
  const isInferred = body !== undefined && fn.result === undefined && findAll(body, 'Return').some((it) => it.value !== undefined);
  return fingerprint(isInferred ? fn : head);
}

/** A constant's value counts as well as its type, and a getter is a function. */
function fieldHead(field: Field): string {
  const { getter, setter, ...head } = field;
  const accessors = [getter, setter].flatMap((fn) => (fn === undefined ? [] : [fnHead(fn)]));
  return [fingerprint(head), ...accessors].join(' ');
}
