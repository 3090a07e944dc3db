/**
 * Reads names out of a Java archive: which classes it holds, and every name in their constant pools. Just enough of the
 * zip and class file formats (Java Virtual Machine Specification, 4.4) to ask whether a function exists.
 */
import { readFileSync } from 'node:fs';
import { inflateRawSync } from 'node:zlib';

export interface JarNames {
  /** `kotlinx/coroutines/sync/Mutex` */
  readonly classes: ReadonlySet<string>;
  readonly names: ReadonlySet<string>;
}

/** @param inside only class files under one of these folders are looked into */
export function jarNames(path: string, inside: readonly string[]): JarNames {
  const bytes = readFileSync(path);
  const classes = new Set<string>();
  const names = new Set<string>();
  for (const { name, method, from, size } of entries(bytes)) {
    if (!name.endsWith('.class')) continue;
    classes.add(name.slice(0, -6));
    if (!inside.some((folder) => name.startsWith(folder) && !name.slice(folder.length).includes('/'))) continue;
    const packed = bytes.subarray(from, from + size);
    for (const text of constants(method === 0 ? packed : inflateRawSync(packed))) names.add(text);
  }
  return { classes, names };
}

interface Entry { readonly name: string; readonly method: number; readonly from: number; readonly size: number }

/** The central directory stands at the end, behind a record that says where it begins. */
function* entries(bytes: Buffer): Generator<Entry> {
  const end = bytes.lastIndexOf(Buffer.from([0x50, 0x4b, 5, 6]));
  let at = bytes.readUInt32LE(end + 16);
  for (let left = bytes.readUInt16LE(end + 10); left > 0; left -= 1) {
    const [nameLength, extra, comment] = [bytes.readUInt16LE(at + 28), bytes.readUInt16LE(at + 30), bytes.readUInt16LE(at + 32)];
    const local = bytes.readUInt32LE(at + 42);
    const from = local + 30 + bytes.readUInt16LE(local + 26) + bytes.readUInt16LE(local + 28);
    yield { name: bytes.toString('utf8', at + 46, at + 46 + nameLength), method: bytes.readUInt16LE(at + 10), from, size: bytes.readUInt32LE(at + 20) };
    at += 46 + nameLength + extra + comment;
  }
}

/** Sizes of constant pool entries by tag, without the tag; texts (tag 1) bring their length along. */
const SIZES: Readonly<Record<number, number>> = { 3: 4, 4: 4, 5: 8, 6: 8, 7: 2, 8: 2, 9: 4, 10: 4, 11: 4, 12: 4, 15: 3, 16: 2, 17: 4, 18: 4, 19: 2, 20: 2 };

function* constants(file: Buffer): Generator<string> {
  const count = file.readUInt16BE(8);
  let at = 10;
  for (let index = 1; index < count; index += 1) {
    const tag = file.readUInt8(at);
    if (tag === 1) {
      const length = file.readUInt16BE(at + 1);
      yield file.toString('utf8', at + 3, at + 3 + length);
      at += 3 + length;
    } else {
      at += 1 + SIZES[tag]!;
      // A long or a double takes two places.
      if (tag === 5 || tag === 6) index += 1;
    }
  }
}
