/**
 * Between the project's places (a path and UTF-16 offsets) and the protocol's (a URI, lines and columns in UTF-16 code
 * units). No other module of this room converts one into the other.
 */
import { fileURLToPath, pathToFileURL } from 'node:url';
import { TextDocument } from 'vscode-languageserver-textdocument';
import type { Range } from 'vscode-languageserver/node';
import type { Span } from '../ir/ir.js';
import { normalPath } from '../project/paths.js';

/** The path of a `file:` URI; `undefined` for any other scheme, which no file of ours can have. */
export function pathOf(uri: string): string | undefined {
  if (!uri.startsWith('file:')) return undefined;
  try {
    return normalPath(fileURLToPath(uri));
  } catch {
    return undefined;
  }
}

export function uriOf(path: string): string {
  return pathToFileURL(path).href;
}

/** The text of a file, cut into lines once and asked many times. */
export class Lines {
  private readonly document: TextDocument;

  constructor(readonly text: string) {
    this.document = TextDocument.create('', '', 0, text);
  }

  range(span: Span): Range {
    return { start: this.document.positionAt(span.start), end: this.document.positionAt(span.end) };
  }

  span(range: Range): Span {
    return { start: this.document.offsetAt(range.start), end: this.document.offsetAt(range.end) };
  }

  offset(position: Range['start']): number {
    return this.document.offsetAt(position);
  }

  /** Offset of the first character of the line that `offset` is in. */
  lineStart(offset: number): number {
    return this.document.offsetAt({ line: this.document.positionAt(offset).line, character: 0 });
  }

  /** The blanks with which the line begins that `offset` is in. */
  indentation(offset: number): string {
    return /^[ \t]*/.exec(this.text.slice(this.lineStart(offset)))![0];
  }
}
