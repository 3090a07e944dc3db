/** Lines and columns of offsets in one text, both from 1, columns in UTF-16 code units, as reports and clickable places have them. */
import type { Span } from '../ir/ir.js';

export interface Position {
  readonly line: number;
  readonly column: number;
}

export class Lines {
  /** Offset of the first character of every line. */
  private readonly starts: readonly number[];

  constructor(readonly text: string) {
    this.starts = [0, ...[...text.matchAll(/\r\n|\n|\r/g)].map((end) => end.index + end[0].length)];
  }

  /** An offset beyond the text is taken for its end. */
  position(offset: number): Position {
    const at = Math.max(0, Math.min(offset, this.text.length));
    let low = 0;
    let high = this.starts.length - 1;
    while (low < high) {
      const middle = (low + high + 1) >> 1;
      if (this.starts[middle]! <= at) low = middle;
      else high = middle - 1;
    }
    return { line: low + 1, column: at - this.starts[low]! + 1 };
  }

  range(span: Span): { readonly start: Position; readonly end: Position } {
    return { start: this.position(span.start), end: this.position(span.end) };
  }

  /** The text of the line that an offset is in, without its end. */
  lineText(offset: number): string {
    const { line } = this.position(offset);
    return this.text.slice(this.starts[line - 1], this.starts[line]).replace(/[\r\n]+$/, '');
  }
}
