/**
 * The Kotlin front end: text in, program model out. The other way, `write.ts`.
 *
 * The parser is our own because it has to read code while it is being typed. It
 * is held against the Kotlin compiler's own tree in the tests. It resolves
 * nothing: what a name is, is not asked here.
 */
import type { File } from '../../ir/ir.js';
import { lex } from './lexer.js';
import { lowerFile } from './lower-file.js';
import { parse } from './parse-file.js';

/**
 * Lowers one Kotlin file. Total: any text gives a model, in time linear in its
 * length but for pathological nesting, and never an exception.
 */
export function lowerKotlin(text: string, path: string): File {
  const tokens = lex(text);
  const { tree, unreadable } = parse(tokens);
  return lowerFile({ text, path, comments: tokens.comments, unreadable }, tree);
}
