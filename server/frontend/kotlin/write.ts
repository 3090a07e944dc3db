/**
 * Model pieces back to Kotlin text.
 *
 * A piece with a place is copied from the source as it stands; a made one is
 * written in the style of the lines around it. Nothing is wrapped or aligned. Throws
 * `NotWritable` for made pieces that Kotlin has no words for.
 */
import type { Declaration, Expr, Stmt } from '../../ir/ir.js';
import type { Style } from '../style.js';
import { writeDeclaration } from './write-declarations.js';
import { writeExpr } from './write-expressions.js';
import { writeStmt } from './write-statements.js';
import type { Writing } from './writing.js';

export { NotWritable } from './writing.js';

/**
 * The text of `node` without a newline at its end; further lines begin with the style's indentation. Kotlin ends no
 * statement with a semicolon and quotes strings one way, whatever the style says of either.
 */
export function writeKotlin(node: Stmt | Expr | Declaration, style: Style, source: string): string {
  const w: Writing = { style, source };
  switch (node.kind) {
    case 'Fn':
    case 'Field':
    case 'TypeAlias':
    case 'Class':
      return writeDeclaration(w, node);
    case 'Block':
    case 'Let':
    case 'Assign':
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
