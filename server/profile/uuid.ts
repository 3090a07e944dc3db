/**
 * How UUIDs and company identifiers are spelled in a profile. They are read from their text, never from the number that
 * YAML would make of it. A fault says which characters are wrong, and where.
 */
import { expandUuid } from '../catalogue/index.js';
import type { Span } from '../ir/ir.js';

export type Spelled<T> = { readonly value: T } | Fault;

export interface Fault {
  readonly message: string;
  /** Relative to the text that was read. */
  readonly at: Span;
}

/** What follows the first 32 bits of every UUID that has a short form (Core Specification, Vol 3, Part B). */
export const BASE_UUID = '-0000-1000-8000-00805f9b34fb';

/** Digits in the five groups of a long UUID. */
const GROUPS = [8, 4, 4, 4, 12] as const;

/**
 * @param text 4, 8 or 32 hexadecimal digits, with or without `0x`, the long form with or without its hyphens
 * @returns 128-bit lower-case text with hyphens
 */
export function spellUuid(text: string): Spelled<string> {
  const { digits, offset } = withoutPrefix(text);
  const strange = strangeCharacter(digits, offset, text, /[0-9a-f-]/iu, 'A UUID is written as 4, 8 or 32 hexadecimal digits.');
  if (strange !== undefined) return strange;
  const lower = digits.toLowerCase();
  if (lower.includes('-')) return grouped(lower, offset, text);
  switch (lower.length) {
    case 4: case 8: case 32: return { value: expandUuid(lower) };
    default: return { message: `A UUID has 4, 8 or 32 hexadecimal digits; this has ${lower.length}.`, at: wholeOf(text) };
  }
}

/** @param text four hexadecimal digits, with or without `0x` */
export function spellCompany(text: string): Spelled<number> {
  const { digits, offset } = withoutPrefix(text);
  const strange = strangeCharacter(digits, offset, text, /[0-9a-f]/iu, 'A company identifier is written as 4 hexadecimal digits.');
  if (strange !== undefined) return strange;
  if (digits.length !== 4) return { message: `A company identifier has 4 hexadecimal digits; this has ${digits.length}.`, at: wholeOf(text) };
  return { value: Number.parseInt(digits, 16) };
}

function withoutPrefix(text: string): { readonly digits: string; readonly offset: number } {
  return /^0x/i.test(text) ? { digits: text.slice(2), offset: 2 } : { digits: text, offset: 0 };
}

/** The first character that is no digit; where most are none, the text was meant to be something else altogether. */
function strangeCharacter(digits: string, offset: number, text: string, allowed: RegExp, shape: string): Fault | undefined {
  if (digits === '') return { message: shape, at: wholeOf(text) };
  let first: { readonly character: string; readonly index: number } | undefined;
  let count = 0;
  let index = offset;
  for (const character of digits) {
    if (!allowed.test(character)) {
      first ??= { character, index };
      count++;
    }
    index += character.length;
  }
  if (first === undefined) return undefined;
  if (count * 3 > digits.length) return { message: `"${text}" is not hexadecimal. ${shape}`, at: wholeOf(text) };
  return {
    message: `"${first.character}" is not a hexadecimal digit${meant(first.character)}.`,
    at: { start: first.index, end: first.index + first.character.length },
  };
}

function meant(character: string): string {
  if (/[oO]/.test(character)) return '; a zero, perhaps';
  if (/[lI]/.test(character)) return '; a one, perhaps';
  return '';
}

function grouped(lower: string, offset: number, text: string): Spelled<string> {
  const groups = lower.split('-');
  if (groups.length !== GROUPS.length) {
    return { message: `A long UUID has five groups of 8, 4, 4, 4 and 12 digits; this has ${groups.length}.`, at: wholeOf(text) };
  }
  let start = offset;
  for (const [index, group] of groups.entries()) {
    const length = GROUPS[index];
    if (length !== undefined && group.length !== length) {
      const at = group === '' ? wholeOf(text) : { start, end: start + group.length };
      return { message: `Group ${index + 1} of this UUID has ${group.length} ${group.length === 1 ? 'digit' : 'digits'} instead of ${length}.`, at };
    }
    start += group.length + 1;
  }
  return { value: lower };
}

function wholeOf(text: string): Span {
  return { start: 0, end: text.length };
}
