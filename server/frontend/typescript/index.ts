/**
 * The TypeScript and JavaScript front end: text in, program model out.
 *
 * Reads with the compiler's own parser and nothing more: no types, no other
 * files, no settings. Total: any text gives a `File`; what cannot be read is
 * named in `unreadable`.
 */
import ts from 'typescript';
import type { File, Span } from '../../ir/ir.js';
import { commentsOf } from './comments.js';
import { scriptOf } from './components.js';
import { newLowering } from './context.js';
import { lowerModule } from './declarations.js';

/** The endings that this front end reads. */
export const typescriptEndings = ['.ts', '.tsx', '.mts', '.cts', '.js', '.jsx', '.mjs', '.cjs', '.vue', '.svelte'] as const;

/** Lowers one file; `path` tells by its ending how to read it. Offsets are UTF-16 code units of `text`. */
export function lowerTypeScript(text: string, path: string): File {
  try {
    return lowerParsed(parse(text, path), path);
  } catch (error) {
    // The parser recurses without a limit of its own: text nested some thousands deep exhausts the stack.
    if (error instanceof RangeError) return unreadableFile(text, path);
    throw error;
  }
}

/** The compiler's tree of a file, as this front end reads it. */
export function parse(text: string, path: string): ts.SourceFile {
  const isComponent = /\.(vue|svelte)$/i.test(path);
  const script = isComponent ? scriptOf(text) : { text, kind: scriptKind(path) };
  const options: ts.CreateSourceFileOptions = {
    languageVersion: ts.ScriptTarget.Latest, jsDocParsingMode: ts.JSDocParsingMode.ParseNone,
  };
  return ts.createSourceFile(path, script.text, options, false, script.kind);
}

/** The ending alone decides, and an unknown one is read as TypeScript. */
function scriptKind(path: string): ts.ScriptKind {
  switch (/\.[^./\\]*$/.exec(path)?.[0].toLowerCase()) {
    case '.tsx': return ts.ScriptKind.TSX;
    case '.js':
    case '.mjs':
    case '.cjs': return ts.ScriptKind.JS;
    case '.jsx': return ts.ScriptKind.JSX;
    default: return ts.ScriptKind.TS;
  }
}

/** Lowers a tree that is already parsed. */
export function lowerParsed(sf: ts.SourceFile, path: string): File {
  const cx = newLowering(sf);
  const span = { start: 0, end: sf.text.length };
  const { declarations, body } = lowerModule(cx, sf.statements, true);
  return {
    kind: 'File', span, language: 'typescript', path, module: moduleOf(path), imports: cx.imports, declarations,
    body: { kind: 'Block', span, stmts: body }, unreadable: merged([...cx.unreadable, ...parserErrors(sf)]), comments: commentsOf(sf),
  };
}

/** The path without its ending stands in for a package. */
function moduleOf(path: string): string {
  return path.replace(/(\.d)?\.[^./\\]+$/, '');
}

function unreadableFile(text: string, path: string): File {
  const span = { start: 0, end: text.length };
  return {
    kind: 'File', span, language: 'typescript', path, module: moduleOf(path), imports: [], declarations: [],
    body: { kind: 'Block', span, stmts: [] }, unreadable: [span], comments: [],
  };
}

/** The parser keeps its errors on the tree, outside of the published type. */
function parserErrors(sf: ts.SourceFile): Span[] {
  const { parseDiagnostics } = sf as ts.SourceFile & { readonly parseDiagnostics?: readonly ts.DiagnosticWithLocation[] };
  return (parseDiagnostics ?? []).map(({ start, length }) => ({ start, end: Math.min(start + length, sf.text.length) }));
}

/** In order, and those that touch as one. */
function merged(spans: readonly Span[]): Span[] {
  const out: Span[] = [];
  for (const span of [...spans].sort((a, b) => a.start - b.start || a.end - b.end)) {
    const last = out.at(-1);
    if (last !== undefined && span.start <= last.end) out[out.length - 1] = { start: last.start, end: Math.max(last.end, span.end) };
    else out.push(span);
  }
  return out;
}
