/**
 * How the lines around a place are laid out, read from the text itself.
 *
 * A fix is written in this style, so that it looks like its neighbours. Only a
 * stretch around the place is looked at: a file may hold generated parts. It is a
 * count of what is usual there and no formatter: lines are never wrapped.
 */

export interface Style {
  /** White space at the beginning of the current line. */
  readonly indent: string;
  /** One step of indentation. */
  readonly unit: string;
  /** Whether statements end with one. */
  readonly semicolons: boolean;
  readonly quote: '"' | "'";
  readonly eol: string;
}

/** UTF-16 code units before and behind the place that count as its neighbourhood. */
const REACH = 8_000;

/** The style at an offset of `text`, in UTF-16 code units. */
export function styleAt(text: string, offset: number): Style {
  const lines = text.slice(Math.max(0, offset - REACH), offset + REACH).split(/\r?\n/);
  return {
    indent: /^[ \t]*/.exec(text.slice(text.lastIndexOf('\n', offset - 1) + 1))?.[0] ?? '',
    unit: unitOf(lines),
    semicolons: endsWithSemicolons(lines),
    quote: quoteOf(lines),
    eol: text.includes('\r\n') ? '\r\n' : '\n',
  };
}

/** Inside the block that opens on the current line. */
export function indented(style: Style): Style {
  return { ...style, indent: style.indent + style.unit };
}

/** The usual step from one line to a deeper one. */
function unitOf(lines: readonly string[]): string {
  const steps = new Map<string, number>();
  let previous = '';
  for (const line of lines) {
    if (line.trim() === '' || /^\s*\*/.test(line)) continue;
    const indent = /^[ \t]*/.exec(line)![0];
    if (indent.length > previous.length && indent.startsWith(previous)) {
      const step = indent.slice(previous.length);
      steps.set(step, (steps.get(step) ?? 0) + 1);
    }
    previous = indent;
  }
  const [most] = [...steps].sort((a, b) => b[1] - a[1]);
  return most?.[0] ?? '  ';
}

/** Of the lines that can only be the end of a statement, most have one; a text without such lines is given them. */
function endsWithSemicolons(lines: readonly string[]): boolean {
  let withOne = 0;
  let without = 0;
  for (const line of lines) {
    const code = line.trim();
    if (/^(\/\/|\/?\*)/.test(code)) continue;
    if (/;(\s*\/\/.*)?$/.test(code)) withOne++;
    else if (/^(const|let|import|return|throw|await)\b.*[\w)\]'"`]$/.test(code) || /^[\w.]+\(.*\)$/.test(code)) without++;
  }
  return withOne >= without;
}

function quoteOf(lines: readonly string[]): '"' | "'" {
  const text = lines.join('\n');
  const double = text.match(/"(?:[^"'\\\n]|\\.)*"/g)?.length ?? 0;
  const single = text.match(/'(?:[^"'\\\n]|\\.)*'/g)?.length ?? 0;
  return double > single ? '"' : "'";
}
