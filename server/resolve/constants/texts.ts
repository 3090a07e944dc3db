/** Functions on constant texts, of both languages. */
import type { Value } from './values.js';

export function textFunction(name: string, on: string, args: readonly (Value | undefined)[]): Value | undefined {
  const text = changed(name, on, args);
  if (text !== undefined) return { is: 'text', text };
  const [first] = args;
  switch (name) {
    case 'toInt':
    case 'toLong': {
      const value = Number.parseInt(on, first?.is === 'number' ? Number(first.value) : 10);
      return Number.isNaN(value) ? undefined : { is: 'number', value };
    }
    default: return undefined;
  }
}

function changed(name: string, on: string, args: readonly (Value | undefined)[]): string | undefined {
  const [first, second] = args;
  switch (name) {
    case 'lowercase': case 'toLowerCase': return on.toLowerCase();
    case 'uppercase': case 'toUpperCase': return on.toUpperCase();
    case 'trim': return on.trim();
    case 'trimIndent': case 'trimMargin': return on.trim();
    case 'toString': return on;
    case 'concat': case 'plus': return first?.is === 'text' ? on + first.text : undefined;
    case 'padStart': return first?.is === 'number' ? on.padStart(Number(first.value), filler(second)) : undefined;
    case 'padEnd': return first?.is === 'number' ? on.padEnd(Number(first.value), filler(second)) : undefined;
    case 'substring': case 'slice': return first?.is === 'number' && (second === undefined || second.is === 'number')
      ? on.slice(Number(first.value), second?.is === 'number' ? Number(second.value) : undefined) : undefined;
    case 'replace': case 'replaceAll': return first?.is === 'text' && second?.is === 'text' ? on.split(first.text).join(second.text) : undefined;
    case 'format': return formatted(on, args);
    default: return undefined;
  }
}

function filler(value: Value | undefined): string {
  return value?.is === 'text' ? value.text : ' ';
}

function converted(value: Value | undefined, kind: string): string | undefined {
  if (value?.is === 'number') return value.value.toString(kind === 'x' || kind === 'X' ? 16 : 10);
  return value?.is === 'text' && kind === 's' ? value.text : undefined;
}

/** `%s`, `%d`, `%x`, `%04X`: the conversions that UUIDs are put together with. */
function formatted(pattern: string, args: readonly (Value | undefined)[]): string | undefined {
  let at = 0;
  let isKnown = true;
  const text = pattern.replace(/%(0?)(\d*)([sdxX%])/g, (_, zero: string, width: string, kind: string) => {
    if (kind === '%') return '%';
    const value = args[at++];
    const piece = converted(value, kind);
    if (piece === undefined) isKnown = false;
    const padded = (piece ?? '').padStart(Number(width || 0), zero === '0' ? '0' : ' ');
    return kind === 'X' ? padded.toUpperCase() : padded;
  });
  return isKnown ? text : undefined;
}
