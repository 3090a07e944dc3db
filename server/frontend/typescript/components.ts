/**
 * Single-file components: only the text of their `<script>` blocks is program.
 *
 * Everything else is blanked out, newlines kept, so every offset stays what it is
 * in the file. Templates are not read: the handlers they name are unknown here.
 */
import ts from 'typescript';

/** The text with all but its scripts as spaces, and how to read those. */
export function scriptOf(text: string): { text: string; kind: ts.ScriptKind } {
  let out = '';
  let kept = 0;
  let hasMarkup = false;
  for (let open = nextScript(text, 0); open !== undefined;) {
    const close = indexOfIgnoringCase(text, '</script', open.end);
    const end = close < 0 ? text.length : close;
    out += blank(text.slice(kept, open.end)) + text.slice(open.end, end);
    kept = end;
    hasMarkup ||= /\blang\s*=\s*["']?[jt]sx\b/.test(text.slice(open.start, open.end));
    open = nextScript(text, end);
  }
  return { text: out + blank(text.slice(kept)), kind: hasMarkup ? ts.ScriptKind.TSX : ts.ScriptKind.TS };
}

function blank(text: string): string {
  return text.replace(/[^\r\n]/g, ' ');
}

/** The next opening tag of a script, outside of comments; its end is just behind the `>`. */
function nextScript(text: string, from: number): { start: number; end: number } | undefined {
  for (let at = text.indexOf('<', from); at >= 0; at = text.indexOf('<', at + 1)) {
    if (text.startsWith('<!--', at)) {
      const close = text.indexOf('-->', at + 4);
      if (close < 0) return undefined;
      at = close;
    } else if (/^<script[\s>]/i.test(text.slice(at, at + 8))) {
      const end = tagEnd(text, at);
      if (end < 0) return undefined;
      if (text.charAt(end - 2) !== '/') return { start: at, end };
      at = end - 1;
    }
  }
  return undefined;
}

/** Just behind the `>` of the tag that opens at `start`; attribute values in quotes may hold one too. */
function tagEnd(text: string, start: number): number {
  let quote = '';
  for (let at = start; at < text.length; at++) {
    const char = text.charAt(at);
    if (quote !== '') {
      if (char === quote) quote = '';
    } else if (char === '"' || char === "'") {
      quote = char;
    } else if (char === '>') {
      return at + 1;
    }
  }
  return -1;
}

function indexOfIgnoringCase(text: string, word: string, from: number): number {
  for (let at = text.indexOf('<', from); at >= 0; at = text.indexOf('<', at + 1)) {
    if (text.slice(at, at + word.length).toLowerCase() === word) return at;
  }
  return -1;
}
