/**
 * Reads a member's signature as the data write it:
 *
 *     requestMtu(mtu: number @mtu) -> boolean       a method
 *     getService(uuid: UUID) -> BluetoothGattService?
 *     getSystemService<T>(serviceClass: Class<T>) -> T
 *     (uuid: UUID, permissions: number)             a constructor
 *     addAll(elements...: T)                        any number of arguments
 *     close(reason?: Error)                         an argument that may be left out
 *     value: bytes?                                 a property
 *
 * A `@word` after a parameter's type says what the value means. Type texts are kept as they stand; `resolve/` reads them.
 */
import type { PlatformParam } from './types.js';

export interface Signature {
  /** `constructor` for one without a name. */
  readonly name: string;
  readonly typeParams?: readonly string[];
  /** Absent for a property. */
  readonly params?: readonly PlatformParam[];
  /** Absent: void. */
  readonly result?: string;
}

/** @throws Error when the text is no signature; a test reads every one of them. */
export function readSignature(text: string): Signature {
  const open = text.indexOf('(');
  const colon = text.indexOf(':');
  if (open < 0 || (colon >= 0 && colon < open)) {
    if (colon < 0) throw new Error(`neither a parameter list nor a type: ${text}`);
    return { name: text.slice(0, colon).trim(), result: text.slice(colon + 1).trim() };
  }
  const close = closing(text, open);
  const rest = text.slice(close + 1).trim();
  if (rest !== '' && !rest.startsWith('-> ')) throw new Error(`no result after the parameters: ${text}`);
  const params = pieces(text.slice(open + 1, close)).map(readParam);
  const [name, typeParams] = readName(text.slice(0, open));
  return { name, ...typeParams, params, ...(rest === '' ? {} : { result: rest.slice(3).trim() }) };
}

function readName(text: string): [string, { readonly typeParams?: readonly string[] }] {
  const match = /^([\w$]*)(?:<([\w, ]+)>)?$/.exec(text.trim());
  if (match === null) throw new Error(`no name: ${text}`);
  return [match[1] || 'constructor', match[2] === undefined ? {} : { typeParams: match[2].split(', ') }];
}

function readParam(text: string): PlatformParam {
  const match = /^([\w$]+)(\?|\.\.\.)?: (.+?)(?: @([a-z-]+))?$/.exec(text);
  if (match === null) throw new Error(`no parameter: ${text}`);
  const [, name, mark, type, is] = match as unknown as [string, string, string | undefined, string, PlatformParam['is']];
  return {
    name,
    type,
    ...(is === undefined ? {} : { is }),
    ...(mark === '?' ? { optional: true } : {}),
    ...(mark === '...' ? { rest: true } : {}),
  };
}

/** Position of the parenthesis that closes the one at `open`. */
function closing(text: string, open: number): number {
  let depth = 0;
  for (let at = open; at < text.length; at += 1) {
    if (text[at] === '(') depth += 1;
    if (text[at] === ')' && --depth === 0) return at;
  }
  throw new Error(`parenthesis left open: ${text}`);
}

/** Splits at commas that stand in no bracket; the `>` of an arrow is none. */
function pieces(text: string): string[] {
  const found: string[] = [];
  let depth = 0;
  let start = 0;
  for (let at = 0; at < text.length; at += 1) {
    const sign = text[at];
    if (sign === '(' || sign === '<') depth += 1;
    else if (sign === ')' || (sign === '>' && text[at - 1] !== '-')) depth -= 1;
    else if (sign === ',' && depth === 0) {
      found.push(text.slice(start, at).trim());
      start = at + 1;
    }
  }
  const last = text.slice(start).trim();
  if (last !== '') found.push(last);
  return found;
}
