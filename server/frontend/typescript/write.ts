/**
 * Model pieces back to TypeScript text.
 *
 * A piece with a place is copied from the source as it stands; a made one is
 * written in the style of the lines around it. Nothing is wrapped or aligned. Throws
 * `NotWritable` for made pieces that TypeScript has no words for.
 */
import type { Declaration, Expr, Stmt } from '../../ir/ir.js';
import type { Style } from '../style.js';
import { writeDeclaration } from './write-declarations.js';
import { writeExpr } from './write-expressions.js';
import { writeStmt } from './write-statements.js';
import type { Writing } from './writing.js';

export { NotWritable } from './writing.js';

/**
 * The text of `node` without a newline at its end; further lines begin with the style's indentation. A statement has its
 * terminator. An `Assign` is written as an expression, without one. A made function is a method, except on a line that is
 * not indented: there are no members outside of a class.
 */
export function writeTypeScript(node: Stmt | Expr | Declaration, style: Style, source: string): string {
  const w: Writing = { style, source };
  switch (node.kind) {
    case 'Fn':
    case 'Field':
    case 'TypeAlias':
    case 'Class':
      return writeDeclaration(w, node, style.indent === '' ? 'statement' : 'members');
    case 'Block':
    case 'Let':
    case 'ExprStmt':
    case 'Yield':
    case 'Branch':
    case 'Loop':
    case 'Try':
    case 'Return':
    case 'Throw':
    case 'Jump':
    case 'LocalDecl':
      return writeStmt(w, node);
    default:
      return writeExpr(w, node);
  }
}
