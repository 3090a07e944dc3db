/**
 * A short stable digest of a text, for fingerprints and for telling whether something changed. It is not cryptographic:
 * nobody is to be kept from making two texts that collide, they are only to be unlikely.
 */

const OFFSET_BASIS = 0xcbf29ce484222325n;

/**
 * FNV-1a, 64 bits, over the text's UTF-8 bytes, as 16 lower-case hexadecimal digits.
 * Source: RFC 9923, "The FNV Non-Cryptographic Hash Algorithm".
 */
export function digest(text: string): string {
  // Two halves of 32 bits: BigInt arithmetic a byte would cost more than all the rest of a check.
  let high = Number(OFFSET_BASIS >> 32n);
  let low = Number(OFFSET_BASIS & 0xffffffffn);
  for (const byte of new TextEncoder().encode(text)) {
    low = (low ^ byte) >>> 0;
    [high, low] = timesPrime(high, low);
  }
  return hex(high) + hex(low);
}

/** (high·2³² + low) × 0x100000001b3 modulo 2⁶⁴; the prime is 2⁴⁰ + 0x1b3. */
function timesPrime(high: number, low: number): [number, number] {
  const lowProduct = low * 0x1b3;
  const carry = Math.floor(lowProduct / 0x100000000);
  const highProduct = high * 0x1b3 + carry + low * 0x100;
  return [highProduct % 0x100000000, lowProduct >>> 0];
}

function hex(half: number): string {
  return half.toString(16).padStart(8, '0');
}
