/**
 * Looks up what the platforms offer: a type by its name, a member of a type, a top-level function. Whether an expression
 * *has* such a type is decided in `resolve/`; here a name is only a name.
 *
 * A type's members are expanded from the data when it is first asked for.
 */
import { platformFiles, type ConstantFacts, type MemberFacts, type PlatformFile, type Signatures, type TypeEntry } from './data.js';
import { readSignature } from './signature.js';
import type { Language, PlatformMember, PlatformType } from './types.js';

interface Slot {
  readonly file: PlatformFile;
  readonly name: string;
  readonly entry: TypeEntry;
  expanded?: PlatformType;
  /** Own members and inherited ones by name. */
  readonly found: Map<string, readonly PlatformMember[]>;
}

interface Index {
  readonly types: Map<string, Slot>;
  readonly functions: Map<string, PlatformMember[]>;
  /** Type texts by name. */
  readonly aliases: Map<string, string>;
  readonly globals: Map<string, string>;
}

const indexes = new Map<Language, Index>();

function indexOf(language: Language): Index {
  const known = indexes.get(language);
  if (known !== undefined) return known;
  const index: Index = { types: new Map(), functions: new Map(), aliases: new Map(), globals: new Map() };
  for (const file of platformFiles) {
    if (file.language !== language) continue;
    for (const [name, entry] of Object.entries(file.types)) {
      const slot: Slot = { file, name, entry, found: new Map() };
      for (const key of [name, qualifiedName(slot), ...(entry.also ?? [])]) index.types.set(key, slot);
    }
    for (const [name, type] of Object.entries(file.aliases ?? {})) index.aliases.set(name, type);
    for (const [name, type] of Object.entries(file.globals ?? {})) index.globals.set(name, type);
    for (const member of members(file.functions, 'method', { static: true }, file.sources)) {
      index.functions.set(member.name, [...(index.functions.get(member.name) ?? []), member]);
    }
  }
  indexes.set(language, index);
  return index;
}

/**
 * The slot for a name as source writes it: bare (`BluetoothGatt`), qualified, or nested (`ScanSettings.Builder`). From
 * TypeScript the qualified name of an Android or Java class finds that class.
 */
function slotOf(language: Language, name: string): Slot | undefined {
  const own = indexOf(language).types.get(name);
  if (own !== undefined || language === 'kotlin') return own;
  return /^(android|java|androidx)\./.test(name) ? indexOf('kotlin').types.get(name) : undefined;
}

/** The type of that name, bare, qualified or nested (`ScanSettings.Builder`). */
export function platformType(language: Language, name: string): PlatformType | undefined {
  const slot = slotOf(language, name);
  return slot === undefined ? undefined : (slot.expanded ??= expand(slot));
}

export function isPlatformType(language: Language, name: string): boolean {
  return slotOf(language, name) !== undefined;
}

/** Whether a value of the one type is a value of the other: the same type, or one that it extends, however far up. */
export function extendsType(language: Language, name: string, ancestor: string): boolean {
  const wanted = slotOf(language, ancestor);
  const slot = slotOf(language, name);
  return wanted !== undefined && slot !== undefined && lineage(slot).includes(wanted);
}

/**
 * All members of that name, inherited ones after own ones, an overridden one once. In Kotlin a property's name also finds
 * the Java getter and setter behind it (`services` finds `getServices`, `value` finds `getValue` and `setValue`); the
 * number of parameters tells which is meant, or ask {@link getterOf} and {@link settersOf}.
 */
export function membersOf(language: Language, typeName: string, memberName: string): readonly PlatformMember[] {
  const slot = slotOf(language, typeName);
  if (slot === undefined) return [];
  const known = slot.found.get(memberName);
  if (known !== undefined) return known;
  const found = collect(slot, memberName);
  slot.found.set(memberName, found);
  return found;
}

/** What reading the property yields or calls: `gatt.services` calls `getServices()`, `adapter.isEnabled` calls `isEnabled()`. */
export function getterOf(language: Language, typeName: string, property: string): PlatformMember | undefined {
  return membersOf(language, typeName, property).find((member) => member.kind !== 'method' || isGetter(member));
}

/** What assigning to the property may call: `characteristic.value = bytes` calls a `setValue` with one parameter. */
export function settersOf(language: Language, typeName: string, property: string): readonly PlatformMember[] {
  return membersOf(language, typeName, property).filter((member) => member.kind === 'method' && member.params?.length === 1 && member.name.startsWith('set'));
}

/** The constructors of a type. */
export function constructorsOf(language: Language, typeName: string): readonly PlatformMember[] {
  return platformType(language, typeName)?.members.filter((member) => member.kind === 'constructor') ?? [];
}

/** Top-level functions of that name: `listOf`, `CompletableDeferred`, `queueMicrotask`. */
export function functionsNamed(language: Language, name: string): readonly PlatformMember[] {
  return indexOf(language).functions.get(name) ?? [];
}

/** The type text behind a platform's type alias: `BluetoothServiceUUID` is `number | string`. */
export function aliasedType(language: Language, name: string): string | undefined {
  return indexOf(language).aliases.get(name);
}

/** The type text of a global value: `navigator`, `document`. */
export function globalType(language: Language, name: string): string | undefined {
  return indexOf(language).globals.get(name);
}

/**
 * The callback that a function of this name overrides in a subclass of the type.
 *
 * @param paramCount tells overloads apart; without it the first one is given
 */
export function callbackOf(typeName: string, fnName: string, paramCount?: number): PlatformMember | undefined {
  return membersOf('kotlin', typeName, fnName).find(
    (member) => member.kind === 'callback' && (paramCount === undefined || member.params?.length === paramCount),
  );
}

/** The constant of that name, with its value where it is known. */
export function constantOf(language: Language, typeName: string, name: string): PlatformMember | undefined {
  return membersOf(language, typeName, name).find((member) => member.kind === 'constant');
}

/** Names of all types in the order of the data; for tables and tests. */
export function platformTypeNames(language: Language): readonly string[] {
  return platformFiles.filter((file) => file.language === language).flatMap((file) => Object.keys(file.types));
}

// ---- Expanding ----------------------------------------------------------

function qualifiedName(slot: Slot): string {
  const home = slot.entry.in ?? slot.file.package;
  return home === undefined ? slot.name : `${home}.${slot.name}`;
}

function expand(slot: Slot): PlatformType {
  const { entry, file, name } = slot;
  const sources = entry.sources ?? file.sources;
  const given = { ...(entry.since === undefined ? {} : { since: entry.since }), ...(entry.deprecated === undefined ? {} : { deprecated: entry.deprecated }) };
  return {
    name,
    qualified: qualifiedName(slot),
    language: file.language,
    kind: entry.kind,
    ...(entry.extends === undefined ? {} : { supertypes: entry.extends }),
    ...(entry.params === undefined ? {} : { typeParams: entry.params }),
    ...(entry.since === undefined ? {} : { since: entry.since }),
    members: [
      ...Object.entries(entry.constants ?? {}).map(([key, facts]) => constant(key, { ...given, ...facts }, sources)),
      ...members(entry.constructors, 'constructor', { ...given, result: ownType(name, entry) }, sources),
      ...members(entry.statics, 'method', { ...given, static: true }, sources),
      ...members(entry.properties, 'property', given, sources),
      ...members(entry.methods, 'method', given, sources),
      ...members(entry.callbacks, 'callback', given, sources),
    ],
  };
}

function ownType(name: string, entry: TypeEntry): string {
  return entry.params === undefined ? name : `${name}<${entry.params.join(', ')}>`;
}

function members(signatures: Signatures | undefined, kind: PlatformMember['kind'], given: Partial<PlatformMember>, sources: readonly string[]): PlatformMember[] {
  return Object.entries(signatures ?? {}).map(([text, facts]: [string, MemberFacts | null]) => ({
    ...given,
    sources,
    ...readSignature(text),
    ...facts,
    kind,
  }));
}

function constant(name: string, { type, ...facts }: ConstantFacts, sources: readonly string[]): PlatformMember {
  return { sources, ...facts, name, kind: 'constant', static: true, result: type ?? typeOfValue(facts.value) };
}

function typeOfValue(value: ConstantFacts['value']): string {
  if (Array.isArray(value)) return 'bytes';
  return value === undefined ? 'any' : typeof value;
}

// ---- Inheritance --------------------------------------------------------

/** The type and all that it extends, nearest first, each once. */
function lineage(slot: Slot): readonly Slot[] {
  const line: Slot[] = [slot];
  for (const each of line) {
    for (const name of each.entry.extends ?? []) {
      const above = slotOf(each.file.language, name.replace(/<.*$/, ''));
      if (above !== undefined && !line.includes(above)) line.push(above);
    }
  }
  return line;
}

function collect(slot: Slot, memberName: string): readonly PlatformMember[] {
  const capital = memberName.charAt(0).toUpperCase() + memberName.slice(1);
  const accessors = slot.file.language === 'kotlin' && /^[a-z]/.test(memberName) ? [`get${capital}`, `set${capital}`] : [];
  const found = new Map<string, PlatformMember>();
  for (const each of lineage(slot)) {
    const type = (each.expanded ??= expand(each));
    for (const member of type.members) {
      if (member.kind === 'constructor') continue;
      if (member.name !== memberName && !(accessors.includes(member.name) && isAccessor(member))) continue;
      const key = `${member.name}(${member.params?.map((param) => param.type).join() ?? ''}`;
      if (!found.has(key)) found.set(key, member);
    }
  }
  return [...found.values()];
}

/** `getX` and `isX` are read as properties in Kotlin, `setX` with one parameter is assigned to. */
function isAccessor(member: PlatformMember): boolean {
  if (member.kind !== 'method' || member.static === true) return false;
  return isGetter(member) || (member.name.startsWith('set') && member.params?.length === 1);
}

function isGetter(member: PlatformMember): boolean {
  return /^(get|is)[A-Z]/.test(member.name) && member.params?.length === 0 && member.result !== undefined;
}
