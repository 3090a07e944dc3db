/**
 * Both front ends behind one door: a source's language is told by its ending, and
 * from there on nobody asks for it but the writers.
 */
import type { Declaration, Expr, File, Language, Stmt } from '../ir/ir.js';
import { lowerKotlin } from './kotlin/index.js';
import { writeKotlin } from './kotlin/write.js';
import { styleAt, type Style } from './style.js';
import { lowerTypeScript, typescriptEndings } from './typescript/index.js';
import { writeTypeScript } from './typescript/write.js';

const KOTLIN_ENDINGS = ['.kt', '.kts'] as const;

/** The endings of the files that can be lowered, with their dots. */
export const sourceEndings: readonly string[] = [...KOTLIN_ENDINGS, ...typescriptEndings];

/** The language of a file by its ending; undefined for what is no source. */
export function languageOf(path: string): Language | undefined {
  const ending = /\.[^./\\]+$/.exec(path)?.[0].toLowerCase() ?? '';
  if (KOTLIN_ENDINGS.some((known) => known === ending)) return 'kotlin';
  return typescriptEndings.some((known) => known === ending) ? 'typescript' : undefined;
}

/** The model of a source, or undefined for a file of another kind. Never throws. */
export function lower(text: string, path: string): File | undefined {
  switch (languageOf(path)) {
    case 'kotlin': return lowerKotlin(text, path);
    case 'typescript': return lowerTypeScript(text, path);
    case undefined: return undefined;
  }
}

/** A model piece as text of its language; what the writers promise stands with them. */
export function write(node: Stmt | Expr | Declaration, language: Language, style: Style, source: string): string {
  return language === 'kotlin' ? writeKotlin(node, style, source) : writeTypeScript(node, style, source);
}

export { styleAt };
export type { Style };
