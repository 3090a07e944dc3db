import { expect, it } from 'vitest';
import { digest } from '../../server/engine/hash.js';

// Source: RFC 9923, "The FNV Non-Cryptographic Hash Algorithm", test vectors of FNV-1a with 64 bits.
it.each([
  ['', 'cbf29ce484222325'],
  ['a', 'af63dc4c8601ec8c'],
  ['foobar', '85944171f73967e8'],
])('is FNV-1a: %j', (text, expected) => {
  expect(digest(text)).toBe(expected);
});

it('agrees with the same recipe in whole 64-bit arithmetic', () => {
  const slow = (text: string): string => {
    let hash = 0xcbf29ce484222325n;
    for (const byte of new TextEncoder().encode(text)) hash = ((hash ^ BigInt(byte)) * 0x100000001b3n) & 0xffffffffffffffffn;
    return hash.toString(16).padStart(16, '0');
  };
  for (const text of ['gatt?.writeCharacteristic(c)', 'Bienenstockwaage: 47,5 kg — ähnlich', '🐝'.repeat(100)]) expect(digest(text)).toBe(slow(text));
});
