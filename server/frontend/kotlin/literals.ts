/** The values of literals, from their text. */

/** `1_000L`, `0xFFu`, `0b1010`, `1.5e3f`; a whole number that a double cannot hold exactly becomes a bigint. */
export function numberValue(text: string): number | bigint {
  const plain = text.replaceAll('_', '');
  const whole = /^(0[xX][0-9a-fA-F]+|0[bB][01]+|[0-9]+)[uUlL]*$/.exec(plain)?.[1];
  if (whole === undefined) return Number(plain.replace(/[fF]$/, ''));
  const exact = BigInt(whole);
  return exact <= BigInt(Number.MAX_SAFE_INTEGER) ? Number(exact) : exact;
}

/** The character of `'a'` or `'\n'`, as a string. */
export function charValue(text: string): string {
  return unescaped(text.replace(/^'|'$/g, ''));
}

const ESCAPES: Readonly<Record<string, string>> = {
  t: '\t', b: '\b', n: '\n', r: '\r', '\'': '\'', '"': '"', '\\': '\\', $: '$',
};

/** Text between quotes, its escapes replaced; a wrong escape stays as it is written. */
export function unescaped(text: string): string {
  if (!text.includes('\\')) return text;
  return text.replace(/\\(?:u([0-9a-fA-F]{4})|([tbnr'"\\$]))/g, (_, code: string | undefined, letter: string | undefined) =>
    code !== undefined ? String.fromCharCode(Number.parseInt(code, 16)) : ESCAPES[letter ?? ''] ?? '');
}
