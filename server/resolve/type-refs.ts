/**
 * What a written type stands for: type parameters, classes and aliases in scope, imports, the catalogue.
 *
 * A name that is found nowhere stays a name: it is some type, but none that we know. So a class of another library that
 * is called like a platform's is never taken for it.
 */
import { platformType } from '../catalogue/index.js';
import type { PlatformType } from '../catalogue/types.js';
import type { AnyNode, Class, File, TypeAlias, TypeRef } from '../ir/ir.js';
import type { Decl, Ty } from './api.js';
import type { Core } from './core.js';
import { memberDecl } from './decls.js';
import { blockDeclarations } from './blocks.js';
import { classLine, inType, ownMembers } from './members.js';
import { exported, fileLevel, kotlinQualified, moduleFile } from './modules.js';
import { catalogueAlias } from './elements.js';
import { typeOfText } from './type-text.js';
import {
  ANY, asNullable, awaited, bind, BOOLEAN, BYTES, classTy, funTy, instanceOf, intersectionOf, joinAll, metaOf, nonNull, NUMBER, platformTy, STRING,
  substitute, tupleOf, ty, unionOf, variable, VOID,
} from './types.js';

const NEUTRAL = new Map<string, Ty>([
  ['number', NUMBER], ['string', STRING], ['boolean', BOOLEAN], ['void', VOID], ['bytes', BYTES], ['any', ANY],
]);

export function typeOfRef(core: Core, ref: TypeRef, at: AnyNode): Ty | undefined {
  const type = bare(core, ref, at);
  return ref.nullable ? asNullable(type) : type;
}

function bare(core: Core, ref: TypeRef, at: AnyNode): Ty {
  if (ref.members !== undefined) return classTy(ref.members);
  const neutral = NEUTRAL.get(ref.name);
  if (neutral !== undefined) return neutral;
  const args = ref.args.map((arg) => core.typeOfRef(arg, at) ?? ANY);
  switch (ref.name) {
    case 'list': return args.length > 1 ? tupleOf(args) : ty('list', args);
    case 'fun': return functionType(core, ref, args, at);
    case '|': return unionOf(args, args.some((arg) => arg.nullable));
    case '&': return intersectionOf(args);
    case 'this': return core.thisAt(at) ?? ANY;
  }
  return core.typeNamed(ref.name, args, at) ?? ty(ref.name, args);
}

function functionType(core: Core, ref: TypeRef, args: readonly Ty[], at: AnyNode): Ty {
  const receiver = ref.receiver && core.typeOfRef(ref.receiver, at);
  return funTy({ params: args.slice(0, -1), result: args.at(-1) ?? ANY, ...(receiver && { receiver }) });
}

// ---- Names --------------------------------------------------------------

/** The type that a name, qualified or not, stands for at a place. */
export function typeNamed(core: Core, name: string, args: readonly Ty[], at: AnyNode): Ty | undefined {
  const computed = utilityType(core, name, args, at);
  if (computed !== undefined) return computed;
  const dot = name.indexOf('.');
  if (dot < 0) return simpleName(core, name, args, at);
  const whole = qualifiedName(core, name, args, at);
  return whole ?? ty(name, args);
}

function simpleName(core: Core, name: string, args: readonly Ty[], at: AnyNode): Ty {
  const file = core.program.fileOf(at);
  if (file === undefined) return ty(name, args);
  const decl = lexicalType(core, name, at);
  if (decl === 'variable') return variable(name);
  if (decl !== undefined) return typeOfTypeDecl(core, decl, args);
  for (const level of fileLevel(core, file, name)) {
    const type = level.decls.find(namesType);
    if (type?.is === 'import') return imported(core, type, args, file);
    if (type !== undefined) return typeOfTypeDecl(core, type, args);
  }
  return globalName(core, name, args, file);
}

function namesType(decl: Decl): boolean {
  return decl.is === 'class' || decl.is === 'alias' || decl.is === 'import' || (decl.is === 'platform' && decl.member === undefined);
}

/** Types and type parameters declared around the place: by functions, classes (inherited ones too) and blocks. */
function lexicalType(core: Core, name: string, at: AnyNode): Decl | 'variable' | undefined {
  for (let node: AnyNode | undefined = at; node !== undefined; node = core.program.parentOf(node)) {
    if (node.kind === 'Fn' && node.typeParams.includes(name)) return 'variable';
    if (node.kind === 'TypeAlias' && node.typeParams?.includes(name)) return 'variable';
    if (node.kind === 'Block') {
      const local = blockDeclarations(node).get(name)?.find((each) => each.kind !== 'Fn');
      if (local !== undefined) return memberDecl(core.program, local);
    }
    if (node.kind === 'Class') {
      if (node.typeParams?.includes(name)) return 'variable';
      const nested = nestedType(core, node, name);
      if (nested !== undefined) return nested;
      if (node.name === name && core.program.parentOf(node)?.kind === 'ObjectExpr') return memberDecl(core.program, node);
    }
  }
  return undefined;
}

function nestedType(core: Core, cls: Class, name: string): Decl | undefined {
  const own = typeMember(core, cls, name);
  if (own !== undefined || cls.supertypes.length === 0 || core.languageAt(cls) !== 'kotlin') return own;
  for (const level of core.superclassesOf(cls)) {
    const found = typeMember(core, level, name);
    if (found !== undefined) return found;
  }
  return undefined;
}

function typeMember(core: Core, cls: Class, name: string): Decl | undefined {
  const member = ownMembers(cls).get(name)?.find((each) => each.kind === 'Class' || each.kind === 'TypeAlias');
  return member && memberDecl(core.program, member);
}

function qualifiedName(core: Core, name: string, args: readonly Ty[], at: AnyNode): Ty | undefined {
  const file = core.program.fileOf(at);
  if (file === undefined) return undefined;
  const segments = name.split('.');
  const nested = memberOfFirst(core, segments, at, file);
  if (nested !== undefined) return typeOfTypeDecl(core, nested, args);
  if (file.language === 'kotlin') {
    const decl = kotlinQualified(core, name).find(namesType);
    return decl && typeOfTypeDecl(core, decl, args);
  }
  // A namespace outside of the program that is called after the standard holds a copy of its declarations.
  const copy = segments.length === 2 && WEB_BLUETOOTH.test(segments[0]!) ? platformType('typescript', segments[1]!) : undefined;
  return copy && platformTy(copy, args);
}

const WEB_BLUETOOTH = /^web-?bluetooth$/i;

/** `Outer.Inner`, `namespace.Type`, `BluetoothAdapter.LeScanCallback`. */
function memberOfFirst(core: Core, segments: readonly string[], at: AnyNode, file: File): Decl | undefined {
  const [first, ...rest] = segments as [string, ...string[]];
  const star = file.language === 'typescript' ? file.imports.find((each) => each.name === undefined && each.alias === first) : undefined;
  const starFile = star && moduleFile(core, file, star.from);
  if (starFile !== undefined) {
    const [next, ...more] = rest as [string, ...string[]];
    return through(core, exported(core, starFile, next, new Set()).find(namesType), more);
  }
  const start = simpleName(core, first, [], at);
  let type: Ty | undefined = start.class === undefined && start.platform === undefined ? undefined : metaOf(start);
  let decl: Decl | undefined;
  for (const segment of rest) {
    decl = type && inType(core, type, segment, file.language)?.decls.find(namesType);
    type = decl && metaOf(typeOfTypeDecl(core, decl, []));
  }
  return decl;
}

function through(core: Core, decl: Decl | undefined, rest: readonly string[]): Decl | undefined {
  let current = decl;
  for (const segment of rest) {
    current = current && inType(core, metaOf(typeOfTypeDecl(core, current, [])), segment, 'typescript')?.decls.find(namesType);
  }
  return current;
}

export function typeOfTypeDecl(core: Core, decl: Decl, args: readonly Ty[]): Ty {
  switch (decl.is) {
    case 'class': return projectType(core, decl.node, args);
    case 'platform': return platformTy(decl.type, args);
    case 'alias': return aliasType(core, decl.node, args);
    default: return ty(decl.name, args);
  }
}

function aliasType(core: Core, alias: TypeAlias, args: readonly Ty[]): Ty {
  const type = core.typeOfRef(alias.type, alias) ?? ANY;
  return substitute(type, bind(alias.typeParams, args));
}

function projectType(core: Core, cls: Class, args: readonly Ty[]): Ty {
  const stand = standsFor(core, cls);
  if (stand !== undefined) return platformTy(stand, args);
  return classTy(cls, args, core.platformOf(cls));
}

/**
 * TypeScript projects that do without `@types/web-bluetooth` write the interfaces they need themselves. One that bears the
 * name of a platform's type and declares nothing else than that type has is a description of it, not a type of its own.
 */
function standsFor(core: Core, cls: Class): PlatformType | undefined {
  if (cls.form !== 'interface' || cls.name === undefined || core.languageAt(cls) !== 'typescript') return undefined;
  const platform = platformType('typescript', cls.name);
  if (platform === undefined) return undefined;
  const known = new Set(platform.members.map((member) => member.name));
  const own = [...ownMembers(cls).keys()];
  return own.every((name) => known.has(name) || name === '' || EVENT_MEMBERS.has(name) || name.startsWith('on')) ? platform : undefined;
}

const EVENT_MEMBERS = new Set(['addEventListener', 'removeEventListener', 'dispatchEvent', 'constructor']);

// ---- Outside the program ------------------------------------------------

/** A type imported from outside the program: the catalogue's, if it is the very one; else some other type of that name. */
function imported(core: Core, decl: Decl & { readonly is: 'import' }, args: readonly Ty[], file: File): Ty {
  const { from, name } = decl.node;
  const written = name ?? decl.name;
  const general = file.language === 'kotlin' ? generalType(from, written) : undefined;
  if (general !== undefined) return platformTy(general, args);
  if (file.language === 'typescript') {
    const platform = from.split('/').some((part) => WEB_BLUETOOTH.test(part)) ? platformType('typescript', written) : undefined;
    if (platform !== undefined) return platformTy(platform, args);
    const only = from.startsWith('.') ? onlyClass(core, written, 'typescript') : undefined;
    if (only !== undefined) return typeOfTypeDecl(core, only, args);
  }
  const clashes = platformType(file.language, written) !== undefined;
  return ty(clashes ? `${from}.${written}` : written, args);
}

/** Packages that no third party writes in. */
const GENERAL_PACKAGE = /^(java|javax|kotlin|kotlinx|android|androidx)(\.|$)/;

/**
 * The catalogue knows the general classes of the platform by their bare names, whichever package they come from
 * (`java.util.HashMap`). Those of Bluetooth it knows exactly.
 */
function generalType(from: string, name: string): PlatformType | undefined {
  const platform = GENERAL_PACKAGE.test(from) ? platformType('kotlin', name) : undefined;
  return platform?.qualified.startsWith('android.bluetooth.') ? undefined : platform;
}

/** The one class or alias of that name in the program, where there is exactly one. */
function onlyClass(core: Core, name: string, language: 'kotlin' | 'typescript'): Decl | undefined {
  const all = [...core.program.classesNamed(name), ...core.program.aliasesNamed(name)].filter((node) => core.languageAt(node) === language);
  return all.length === 1 ? memberDecl(core.program, all[0]!) : undefined;
}

/** A name that nothing in its file explains: the language's globals, or the one class of the program that bears it. */
function globalName(core: Core, name: string, args: readonly Ty[], file: File): Ty {
  const ambient = file.language === 'typescript' ? ambientType(core, name) : undefined;
  if (ambient !== undefined) return typeOfTypeDecl(core, ambient, args);
  const platform = platformType(file.language, name);
  if (platform !== undefined) return platformTy(platform, args);
  const alias = catalogueAlias(file.language, name);
  if (alias !== undefined) return alias;
  const only = onlyClass(core, name, file.language);
  return only === undefined ? ty(name, args) : typeOfTypeDecl(core, only, args);
}

/** Declared by a TypeScript file that is no module (a `.d.ts` without imports): seen everywhere. */
function ambientType(core: Core, name: string): Decl | undefined {
  const candidates = [...core.program.classesNamed(name), ...core.program.aliasesNamed(name)];
  const found = candidates.find((node) => {
    const file = core.program.fileOf(node);
    return file?.language === 'typescript' && file.path.endsWith('.d.ts') && core.program.ownerOf(node) === undefined;
  });
  return found && memberDecl(core.program, found);
}

// ---- Types that compute -------------------------------------------------

/** Types of TypeScript's library and of component frameworks that have the members of their first argument. */
const SAME_AS_FIRST = new Set([
  'Partial', 'Readonly', 'Required', 'NonNullable', 'Pick', 'Omit', 'Exclude', 'Extract', 'NoInfer', 'DeepReadonly', 'UnwrapRef', 'Raw',
]);

function utilityType(core: Core, name: string, args: readonly Ty[], at: AnyNode): Ty | undefined {
  const first = args[0];
  if (first !== undefined && SAME_AS_FIRST.has(name)) return name === 'NonNullable' ? nonNull(first) : first;
  if (first !== undefined && name === 'Awaited') return awaited(first);
  if (first !== undefined && name === 'ReturnType') return first.fn?.result;
  if (first !== undefined && name === 'InstanceType') return instanceOf(first);
  if (name.startsWith('typeof ')) return valueType(core, name.slice('typeof '.length), at);
  const indexed = /^\(?((?:typeof )?[\w$.]+)\)?(?:\[\s*(?:'(\w+)'|"(\w+)"|number)\s*\])$/.exec(name);
  if (indexed === null) return undefined;
  const object = core.typeNamed(indexed[1]!, [], at);
  const member = indexed[2] ?? indexed[3];
  if (object === undefined) return undefined;
  return member === undefined ? object.args[0] : memberType(core, object, member);
}

function memberType(core: Core, object: Ty, name: string): Ty | undefined {
  const found = inType(core, object, name, 'typescript');
  return found && joinAll(found.decls.map((decl) => typeOfFound(core, decl, found.bindings ?? new Map())));
}

/** What reading a found member yields, arguments put in for type parameters. */
function typeOfFound(core: Core, decl: Decl, bindings: ReadonlyMap<string, Ty>): Ty | undefined {
  const type = core.typeOfDecl(decl);
  return type && substitute(type, new Map(bindings));
}

/** `typeof name`, `typeof name.member`. */
function valueType(core: Core, path: string, at: AnyNode): Ty | undefined {
  const [first, ...rest] = path.split('.') as [string, ...string[]];
  let type = core.valueNamed(first, at);
  for (const name of rest) type = type && memberType(core, type, name);
  return type;
}

// ---- Supertypes ---------------------------------------------------------

/** What a type extends directly, arguments put in. */
export function supertypesOf(core: Core, type: Ty): readonly Ty[] {
  if (type.class !== undefined) {
    const bindings = bind(type.class.typeParams, type.args);
    return core.superRefsOf(type.class).map((above) => substitute(above, bindings));
  }
  if (type.platform === undefined) return [];
  const { language, typeParams } = type.platform;
  const bindings = bind(typeParams, type.args);
  return (type.platform.supertypes ?? []).map((text) => substitute(typeOfText(language, text, typeParams), bindings));
}

/** The supertypes that a class names; a type parameter of its own stays one. */
export function superRefsOf(core: Core, cls: Class): readonly Ty[] {
  const around = core.program.parentOf(cls) ?? cls;
  return cls.supertypes.flatMap(({ type }) => partsOfSuper(core.typeOfRef(type, cls.typeParams === undefined ? around : cls)));
}

function partsOfSuper(type: Ty | undefined): readonly Ty[] {
  if (type === undefined) return [];
  return type.parts ?? [type];
}

/** The catalogue's type that a class extends or implements: the nearest class, else the nearest interface. */
export function platformOf(core: Core, cls: Class): PlatformType | undefined {
  const line = classLine(core, classTy(cls)).flatMap((level) => (level.class === undefined && level.platform !== undefined ? [level.platform] : []));
  return line.find((platform) => platform.kind === 'class') ?? line[0];
}

export function superclassesOf(core: Core, cls: Class): readonly Class[] {
  return classLine(core, classTy(cls)).flatMap((level) => (level.class === undefined || level.class === cls ? [] : [level.class]));
}

export function selfOf(core: Core, cls: Class): Ty {
  const args = (cls.typeParams ?? []).map(variable);
  return classTy(cls, args, core.platformOf(cls));
}

