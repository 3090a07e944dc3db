/** One more import, in the order that the file's imports are in; none where the name is already there. */
import type { File, Import, Span } from '../../ir/ir.js';
import { Refused, type Target, type TextEdit } from '../edits.js';
import { insertion } from './blocks.js';
import { indentOf, isFirstOnLine, lineEnd, lineStart } from './text.js';

export function importEdits(target: Target, from: string, name: string): TextEdit[] {
  const { file } = target;
  if (isImported(file, from, name)) return [];
  return file.language === 'kotlin' ? kotlinImport(target, from, name) : typescriptImport(target, from, name);
}

function isImported(file: File, from: string, name: string): boolean {
  if (file.language === 'kotlin' && file.module === from) return true;
  return file.imports.some((one) => {
    if (one.from !== from) return false;
    const isStar = file.language === 'kotlin' && one.name === undefined;
    return isStar || (one.name === name && one.alias === undefined);
  });
}

// ---- Kotlin -------------------------------------------------------------

function kotlinImport(target: Target, from: string, name: string): TextEdit[] {
  const { file, text } = target;
  const line = `import ${from}.${name}`;
  if (file.imports.length === 0) return [asFirst(target, line, /^[ \t]*package[ \t]+[^\r\n]*/m.exec(codeOf(file, text)))];
  const statements = file.imports.map((one) => ({ at: one.span, key: `${one.from}.${one.name ?? '*'}` }));
  return [amongLines(target, statements, `${from}.${name}`, line)];
}

/** The text with its comments blanked out, so that words in them are not taken for code. */
function codeOf(file: File, text: string): string {
  let code = text;
  for (const { start, end } of file.comments) code = code.slice(0, start) + text.slice(start, end).replace(/[^\r\n]/g, ' ') + code.slice(end);
  return code;
}

// ---- TypeScript ---------------------------------------------------------

function typescriptImport(target: Target, from: string, name: string): TextEdit[] {
  const { file, text, style, terminator } = target;
  const list = file.imports.filter((one) => one.from === from && isListed(text, one));
  if (list.length > 0) return [amongNames(text, style.eol, list, name)];
  const line = `import { ${name} } from ${style.quote}${from}${style.quote}${terminator}`;
  if (file.imports.length > 0) {
    return [amongLines(target, file.imports.map((one) => ({ at: statementOf(text, one), key: one.from })), from, line)];
  }
  if (!/\.[cm]?[jt]sx?$/.test(file.path)) throw new Refused('the file has no imports, and its script is only a part of it');
  return [asFirst(target, line, /^(?:#!.*|[ \t]*(['"])use \w+\1;?[ \t]*)/.exec(text))];
}

/** The import's span is that of its name; the statement begins with the keyword before it and ends with the module's name. */
function statementOf(text: string, { span }: Import): Span {
  if (text.startsWith('import', span.start)) return span;
  const start = text.lastIndexOf('import', span.start);
  const rest = /^[^'"]*(['"])[^'"\n]*\1;?/.exec(text.slice(span.end));
  return { start, end: span.end + (rest?.[0].length ?? 0) };
}

/** One of the names between braces, in a statement that imports values. */
function isListed(text: string, one: Import): boolean {
  const { start } = statementOf(text, one);
  const lead = text.slice(start, one.span.start);
  return lead.includes('{') && !/^import\s+type\b/.test(lead);
}

function amongNames(text: string, eol: string, list: readonly Import[], name: string): TextEdit {
  const next = isSorted(list.map((one) => one.name!)) ? list.find((one) => one.name! > name) : undefined;
  const beside = next ?? list.at(-1)!;
  // A list with a name a line stays one.
  const { start, end } = beside.span;
  const gap = isFirstOnLine(text, start) ? eol + indentOf(text, start) : ' ';
  return next === undefined ? insertion(end, `,${gap}${name}`) : insertion(start, `${name},${gap}`);
}

// ---- Both ---------------------------------------------------------------

/** On a line of its own: before the first that sorts behind it if they are sorted, else behind the last. */
function amongLines({ text, style }: Target, statements: readonly { at: Span; key: string }[], key: string, line: string): TextEdit {
  const next = isSorted(statements.map((one) => one.key)) ? statements.find((one) => one.key > key) : undefined;
  if (next !== undefined) return insertion(lineStart(text, next.at.start), indentOf(text, next.at.start) + line + style.eol);
  const last = statements.at(-1)!.at;
  return insertion(lineEnd(text, last.end), style.eol + indentOf(text, last.start) + line);
}

function isSorted(keys: readonly string[]): boolean {
  return keys.every((key, i) => i === 0 || keys[i - 1]! <= key);
}

/** Below what has to stay first (a package header, a directive) or, without one, at the very beginning. */
function asFirst({ text, style }: Target, line: string, header: RegExpExecArray | null): TextEdit {
  if (header === null) return insertion(0, line + style.eol.repeat(text === '' ? 1 : 2));
  return insertion(lineEnd(text, header.index + header[0].length), style.eol.repeat(2) + line);
}
