/**
 * Tells whether two pieces of a program say the same, wherever they stand: a number of 64 bits, as text, made of
 * everything in the model but places in the text. It is for comparing a file with what it was before an edit; `print.ts`
 * shows the same to people, at many times the cost.
 */
import type { AnyNode, File } from './ir.js';

/** Equal for nodes that `print` shows alike; otherwise different but for a chance of about 2⁻⁶⁴. */
export function fingerprint(node: AnyNode): string {
  const hash = new Hash();
  if (node.kind === 'File') takeFile(node, hash);
  else take(node, hash);
  return hash.text();
}

function takeFile({ module, imports, declarations, body }: File, hash: Hash): void {
  for (const part of [module, imports, declarations, body]) take(part, hash);
}

/** Properties that say where a node stands: an edit anywhere above it changes them. */
const PLACES: ReadonlySet<string> = new Set(['span', 'nameSpan', 'headSpan']);

/** The model has few properties and names them in every node, so each has its number. Undefined: it is not counted. */
const numbers = new Map<string, number | undefined>();

function numberOf(property: string): number | undefined {
  if (!numbers.has(property)) {
    const hash = new Hash();
    hash.word(property);
    numbers.set(property, PLACES.has(property) ? undefined : hash.a);
  }
  return numbers.get(property);
}

/** By shape alone, so that whatever the model comes to hold is counted in. The model's nesting is bounded by its front ends. */
function take(value: unknown, hash: Hash): void {
  if (typeof value === 'string') hash.word(value);
  else if (typeof value !== 'object' || value === null) hash.word(`${typeof value} ${String(value)}`);
  else if (Array.isArray(value) || value instanceof Set) {
    hash.number(1);
    for (const item of value) take(item, hash);
    hash.number(2);
  } else {
    hash.number(3);
    for (const property in value) {
      const number = numberOf(property);
      if (number === undefined) continue;
      hash.number(number);
      take((value as Record<string, unknown>)[property], hash);
    }
    hash.number(4);
  }
}

/** Two independent multiplicative hashes of 32 bits over UTF-16 code units; the multipliers are odd and near 2³²/φ. */
class Hash {
  a = 0x9e3779b9 | 0;
  private b = 0x85ebca6b | 0;

  number(value: number): void {
    this.a = Math.imul(this.a ^ value, 0x9e3779b1);
    this.b = Math.imul(this.b ^ value, 0x5f356495);
    this.a ^= this.a >>> 15;
    this.b ^= this.b >>> 13;
  }

  /** Its length goes first, so that no two rows of words run together to the same. */
  word(text: string): void {
    this.number(text.length + 8);
    for (let i = 0; i < text.length; i++) this.number(text.charCodeAt(i));
  }

  text(): string {
    return (this.a >>> 0).toString(16).padStart(8, '0') + (this.b >>> 0).toString(16).padStart(8, '0');
  }
}
