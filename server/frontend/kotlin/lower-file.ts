/** The whole file. */
import type { Declaration, File, Import, Span } from '../../ir/ir.js';
import { joined } from './cursor.js';
import { lowerClass, lowerTypeAlias } from './lower-classes.js';
import { lowerField } from './lower-fields.js';
import { lowerFunction } from './lower-functions.js';
import { Lowering } from './lowering.js';
import type * as tree from './tree.js';

export interface Source {
  readonly text: string;
  readonly path: string;
  readonly comments: readonly Span[];
  readonly unreadable: readonly Span[];
}

export function lowerFile(source: Source, file: tree.Tree): File {
  const { text, path, comments } = source;
  const l = new Lowering(text);
  const declarations = file.declarations.flatMap((decl) => lowerDeclaration(l, decl));
  return {
    kind: 'File', span: { start: 0, end: text.length }, language: 'kotlin', path, module: file.module,
    imports: file.imports.map(lowerImport), declarations,
    body: { kind: 'Block', span: { start: text.length, end: text.length }, stmts: [] },
    unreadable: joined([...source.unreadable, ...l.tooDeep]), comments,
  };
}

function lowerImport(decl: tree.Import): Import {
  const { span, path, star, alias } = decl;
  const from = (star ? path : path.slice(0, -1)).join('.');
  const name = star ? undefined : path.at(-1);
  return { kind: 'Import', span, from, ...(name !== undefined && { name }), ...(alias !== undefined && { alias }) };
}

/** Constructors and `init` blocks are no declarations of a file; where damage left one, it is not kept. */
function lowerDeclaration(l: Lowering, decl: tree.Declaration): Declaration[] {
  switch (decl.kind) {
    case 'ClassDecl': return [lowerClass(l, decl)];
    case 'FunDecl': return [lowerFunction(l, decl)];
    case 'PropertyDecl': return [lowerField(l, decl)];
    case 'TypeAliasDecl': return [lowerTypeAlias(decl)];
    case 'ConstructorDecl':
    case 'InitBlock':
      return [];
  }
}
