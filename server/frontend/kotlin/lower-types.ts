/** Type references: neutral names for the common types, the written name for all others. */
import type { Span, TypeRef } from '../../ir/ir.js';
import type { Type } from './tree.js';

/** Kotlin's common types (and Java's twins of them) under the names that both languages share; see `TypeRef.name`. */
const NEUTRAL = new Map<string, string>();
const NEUTRAL_NAMES: Readonly<Record<string, string>> = {
  number: 'Int Long Short Byte UInt ULong UShort UByte Float Double Number Integer',
  string: 'String CharSequence Char',
  boolean: 'Boolean',
  void: 'Unit Nothing Void',
  bytes: 'ByteArray UByteArray',
  list: 'List MutableList ArrayList LinkedList CopyOnWriteArrayList Array Collection MutableCollection Iterable MutableIterable Sequence',
  set: 'Set MutableSet HashSet LinkedHashSet TreeSet SortedSet',
  map: 'Map MutableMap HashMap LinkedHashMap ConcurrentHashMap TreeMap SortedMap',
  any: 'Any dynamic',
};
for (const [neutral, names] of Object.entries(NEUTRAL_NAMES)) for (const name of names.split(' ')) NEUTRAL.set(name, neutral);

/** Arrays of primitives, by what they hold. */
const PRIMITIVE_ARRAYS = new Map<string, string>([
  ...['Int', 'Long', 'Short', 'Float', 'Double', 'UInt', 'ULong', 'UShort'].map((of): [string, string] => [`${of}Array`, 'number']),
  ['BooleanArray', 'boolean'],
  ['CharArray', 'string'],
]);

/** Packages whose common types may be written out: `kotlin.Int`, `java.util.HashMap`. */
const COMMON_PACKAGE = /^(?:kotlin(?:\.collections|\.sequences)?|java\.lang|java\.util(?:\.concurrent)?)\.(?=\w+$)/;

export function lowerType(type: Type): TypeRef {
  switch (type.kind) {
    case 'NamedType': return named(type.span, type.name, type.args.map(lowerType), type.nullable);
    case 'FunctionType': {
      const args = [...type.params, type.result].map(lowerType);
      return {
        span: type.span, name: 'fun', args, nullable: type.nullable,
        ...(type.receiver && { receiver: lowerType(type.receiver) }), ...(type.suspend && { suspend: true }),
      };
    }
    case 'IntersectionType': return { span: type.span, name: '&', args: type.members.map(lowerType), nullable: false };
    case 'StarType':
    case 'BrokenType':
      return { span: type.span, name: 'any', args: [], nullable: type.kind === 'StarType' };
  }
}

function named(span: Span, written: string, args: readonly TypeRef[], nullable: boolean): TypeRef {
  const name = written.replace(COMMON_PACKAGE, '');
  const held = PRIMITIVE_ARRAYS.get(name);
  if (held !== undefined) return { span, name: 'list', args: [{ span, name: held, args: [], nullable: false }], nullable };
  return { span, name: NEUTRAL.get(name) ?? written, args, nullable };
}
