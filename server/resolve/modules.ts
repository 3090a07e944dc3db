/**
 * Imports: which declaration of which file a name of another file is.
 *
 * Kotlin imports name packages; TypeScript imports name files, by relative path, or by an alias that ends like the path of
 * exactly one file of the program. What is imported from outside the program stays the import itself.
 */
import { platformType } from '../catalogue/index.js';
import type { File, Import, Let } from '../ir/ir.js';
import type { Decl } from './api.js';
import type { Core, Found } from './core.js';
import { importDecl, localDecl, memberDecl, platformDecl } from './decls.js';
import { lastName } from './file-index.js';
import { inType } from './members.js';

/** What the name means on the file level: its own declarations, its imports, its package. */
export function fileLevel(core: Core, file: File, name: string): readonly Found[] {
  return core.fileNames(file, name, () => (file.language === 'kotlin' ? kotlinLevels(core, file, name) : typescriptLevels(core, file, name)));
}

// ---- Kotlin -------------------------------------------------------------

/** Explicit imports come before the package, the package before star imports. */
function kotlinLevels(core: Core, file: File, name: string): Found[] {
  const levels: Found[] = [];
  const explicit = file.imports.filter((each) => each.name !== undefined && (each.alias ?? each.name) === name);
  if (explicit.length > 0) add(levels, explicit.flatMap((each) => kotlinImported(core, each, `${each.from}.${each.name}`)));
  add(levels, core.program.inPackage(file.module, name).map((node) => memberDecl(core.program, node)));
  const starred = file.imports.filter((each) => each.name === undefined);
  if (starred.length > 0) add(levels, starred.flatMap((each) => kotlinQualified(core, `${each.from}.${name}`)));
  return levels;
}

function add(levels: Found[], decls: readonly Decl[]): void {
  if (decls.length > 0) levels.push({ decls });
}

function kotlinImported(core: Core, node: Import, qualified: string): readonly Decl[] {
  const decls = kotlinQualified(core, qualified);
  return decls.length > 0 ? decls : [importDecl(core.program, node)];
}

/** `a.b.C`, `a.b.C.D`, `a.b.f`: the longest package that the program has, then members of it; else the catalogue's type. */
export function kotlinQualified(core: Core, qualified: string): readonly Decl[] {
  for (let dot = qualified.lastIndexOf('.'); dot > 0; dot = qualified.lastIndexOf('.', dot - 1)) {
    const home = qualified.slice(0, dot);
    if (!core.program.isPackage(home)) continue;
    const [first, ...rest] = qualified.slice(dot + 1).split('.');
    let decls = core.program.inPackage(home, first!).map((node) => memberDecl(core.program, node));
    for (const part of rest) decls = decls.flatMap((decl) => staticMembers(core, decl, part));
    if (decls.length > 0) return decls;
  }
  return platformQualified(qualified);
}

function staticMembers(core: Core, decl: Decl, name: string): Decl[] {
  if (decl.is !== 'class') return [];
  return [...(inType(core, { ...core.selfOf(decl.node), meta: true }, name, 'kotlin')?.decls ?? [])];
}

/** The catalogue's type of exactly that qualified name, or a member of one (an imported constant). */
function platformQualified(qualified: string): readonly Decl[] {
  const type = platformType('kotlin', qualified);
  if (type !== undefined) return [platformDecl(type)];
  const dot = qualified.lastIndexOf('.');
  const owner = dot < 0 ? undefined : platformType('kotlin', qualified.slice(0, dot));
  if (owner === undefined) return [];
  const name = lastName(qualified);
  return owner.members.filter((member) => member.name === name && member.static === true).map((member) => platformDecl(owner, member));
}

// ---- TypeScript ---------------------------------------------------------

function typescriptLevels(core: Core, file: File, name: string): Found[] {
  const levels: Found[] = [];
  add(levels, ownTop(core, file, name));
  const imported = file.imports.find((each) => localName(each) === name);
  if (imported !== undefined) add(levels, typescriptImported(core, file, imported));
  return levels;
}

function localName(node: Import): string | undefined {
  return node.alias ?? (node.name === 'default' ? undefined : node.name);
}

function ownTop(core: Core, file: File, name: string): Decl[] {
  return core.program.topOf(core.program.indexOf(file), name).map((node) => memberDecl(core.program, node));
}

/** `import * as x` stays the import: its members are looked up in the file it names. */
function typescriptImported(core: Core, file: File, node: Import): readonly Decl[] {
  const target = moduleFile(core, file, node.from);
  if (node.name === undefined) return [importDecl(core.program, node)];
  const decls = target === undefined ? [] : exported(core, target, node.name, new Set());
  return decls.length > 0 ? decls : [importDecl(core.program, node)];
}

/** What a file exports under a name, through re-exports. */
export function exported(core: Core, file: File, name: string, seen: Set<File>): readonly Decl[] {
  if (seen.has(file)) return [];
  seen.add(file);
  if (name === 'default') return defaultExport(core, file, seen);
  const own = ownTop(core, file, name);
  if (own.length > 0) return own;
  const value = topLet(core, file, name);
  if (value !== undefined) return [value];
  for (const node of file.imports) {
    const target = moduleFile(core, file, node.from);
    if (target === undefined) continue;
    if (localName(node) === name) return node.name === undefined ? [importDecl(core.program, node)] : exported(core, target, node.name, seen);
    if (node.name === undefined && node.alias === undefined) {
      const through = exported(core, target, name, seen);
      if (through.length > 0) return through;
    }
  }
  return [];
}

/** A module-level `const`, `let` or `var`. */
function topLet(core: Core, file: File, name: string): Decl | undefined {
  for (const stmt of file.body.stmts) {
    if (stmt.kind !== 'Let') continue;
    const binding = stmt.bindings.find((each) => each.name === name);
    if (binding === undefined) continue;
    core.program.open(file);
    return localDecl(core.program, stmt, name, binding);
  }
  return undefined;
}

function defaultExport(core: Core, file: File, seen: Set<File>): readonly Decl[] {
  core.program.open(file);
  const marked = file.declarations.filter((each) => each.kind !== 'TypeAlias' && each.modifiers.has('default'));
  if (marked.length > 0) return marked.map((node) => memberDecl(core.program, node));
  const named = file.body.stmts.find((stmt): stmt is Let => stmt.kind === 'Let' && stmt.bindings.some((each) => each.name === 'default'));
  if (named !== undefined) return [localDecl(core.program, named, 'default', named.bindings.find((each) => each.name === 'default'))];
  for (const node of file.imports) {
    const target = node.alias === 'default' ? moduleFile(core, file, node.from) : undefined;
    if (target !== undefined) return exported(core, target, node.name ?? 'default', seen);
  }
  return [];
}

const ENDINGS = ['', '.ts', '.tsx', '.d.ts', '/index.ts', '/index.tsx', '/index.d.ts', '.mts', '.js', '.jsx', '.vue', '.svelte'];

/** The file of the program that a module specifier names, as seen from a file. */
export function moduleFile(core: Core, from: File, specifier: string): File | undefined {
  if (specifier.startsWith('.')) return firstOf(core, joinPath(from.path, specifier));
  return aliasedFile(core, specifier);
}

function firstOf(core: Core, path: string): File | undefined {
  const bases = /\.[cm]?jsx?$/.test(path) ? [path.replace(/\.([cm]?)jsx?$/, ''), path] : [path];
  for (const base of bases) {
    for (const ending of ENDINGS) {
      const file = core.program.fileAt(base + ending);
      if (file !== undefined) return file;
    }
  }
  return undefined;
}

function joinPath(from: string, specifier: string): string {
  const cut = Math.max(from.lastIndexOf('/'), from.lastIndexOf('\\'));
  const parts = cut < 0 ? [] : from.slice(0, cut).split(/[/\\]/);
  for (const part of specifier.split('/')) {
    if (part === '..') parts.pop();
    else if (part !== '.' && part !== '') parts.push(part);
  }
  return parts.join('/');
}

/** Files by the last segment of their path without its ending, for aliases. */
const stems = new WeakMap<ReadonlyMap<string, File>, Map<string, { readonly stem: string; readonly file: File }[]>>();

/**
 * `@/ble/link`, `~/ble/link`, `@app/ble/link`, `src/ble/link`: the one file whose path ends so. What looks like a package
 * (`@scope/name`, `name`) is none.
 */
function aliasedFile(core: Core, specifier: string): File | undefined {
  const path = specifier.replace(/^[@~#]\//, './').replace(/^@[^/]+\/(?=.+\/)/, './').replace(/\.[cm]?[jt]sx?$/, '');
  if (path.startsWith('@') || !path.includes('/')) return undefined;
  const suffix = path.replace(/^\.\//, '');
  const candidates = stemsOf(core.program.files).get(suffix.slice(suffix.lastIndexOf('/') + 1)) ?? [];
  const matching = candidates.filter(({ stem }) => stem === suffix || stem.endsWith(`/${suffix}`));
  return matching.length === 1 ? core.program.fileAt(matching[0]!.file.path) : undefined;
}

function stemsOf(files: ReadonlyMap<string, File>): Map<string, { readonly stem: string; readonly file: File }[]> {
  let byLast = stems.get(files);
  if (byLast === undefined) {
    byLast = new Map();
    stems.set(files, byLast);
    for (const file of files.values()) {
      if (file.language !== 'typescript') continue;
      const stem = file.path.replace(/(\/index)?(\.d)?\.[cm]?tsx?$/, '');
      const last = stem.slice(stem.lastIndexOf('/') + 1);
      const known = byLast.get(last);
      if (known === undefined) byLast.set(last, [{ stem, file }]);
      else known.push({ stem, file });
    }
  }
  return byLast;
}
