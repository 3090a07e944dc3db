/**
 * Functions of a component that no code calls, so that its template does: methods of a decorated class, of a component's
 * options, top-level functions of a single-file component. The template itself is not read.
 */
import type { AnyNode, Class, File, Fn } from '../ir/ir.js';
import type { Analysis } from './analysis.js';

/** Annotations of classes whose templates call their public members. Source: Angular, Vue class components. */
const DECORATORS = /^(?:Component|Directive|Options)$/;
/** Functions that take a component's options. Source: Vue. */
const MAKERS = /^(?:defineComponent|defineCustomElement|extend|component|createApp)$/;

/** @param holder the field or declaration that holds a lambda */
export function isComponentAction(a: Analysis, fn: Fn, holder?: AnyNode): boolean {
  return a.once<AnyNode, boolean>('component-action', holder ?? fn, false, () => {
    const name = holder?.kind === 'Field' ? holder.name : holder?.kind === 'Let' ? holder.bindings[0]?.name : fn.name;
    const file = a.fileOf(fn);
    if (!file || name === undefined || name === 'constructor' || isUsed(a, fn, holder)) return false;
    if (isTopLevelOfComponent(a, file, holder ?? fn)) return true;
    const owner = holder?.kind === 'Field' || fn.name !== undefined ? a.program.ownerOf(holder?.kind === 'Field' ? holder : fn) : undefined;
    if (!owner) return false;
    const modifiers = holder?.kind === 'Field' ? holder.modifiers : fn.modifiers;
    if (owner.annotations.some(an => DECORATORS.test(an.name))) return !modifiers.has('private') && !modifiers.has('static');
    return isMethodsOption(a, owner) && !membersOfThis(a, file).has(name);
  });
}

function isUsed(a: Analysis, fn: Fn, holder: AnyNode | undefined): boolean {
  if (a.resolver.callersOf(fn).length > 0 || a.resolver.referencesTo(fn).length > 0) return true;
  if (holder?.kind !== 'Field' && holder?.kind !== 'Let') return false;
  const decl = holder.kind === 'Let' ? a.resolver.declFor(holder, holder.bindings[0]) : a.resolver.declFor(holder);
  return decl !== undefined && a.resolver.readsOf(decl).length > 0;
}

/** What `<script setup>` and Svelte declare is for the template, unless it is exported. */
function isTopLevelOfComponent(a: Analysis, file: File, declared: AnyNode): boolean {
  if (!/\.(?:vue|svelte)$/.test(file.path)) return false;
  if (declared.kind === 'Let') return a.program.parentOf(declared) === file.body && !declared.exported;
  return declared.kind === 'Fn' && a.program.parentOf(declared) === file && !declared.modifiers.has('export');
}

/** `methods: { … }` among a component's options. */
function isMethodsOption(a: Analysis, owner: Class): boolean {
  const object = a.program.parentOf(owner);
  const field = object && a.program.parentOf(object);
  if (owner.form !== 'anonymous' || field?.kind !== 'Field' || field.name !== 'methods') return false;
  const options = a.program.parentOf(field);
  const outer = options && a.program.parentOf(options);
  const place = outer && a.program.parentOf(outer);
  if (place?.kind === 'Call') return MAKERS.test(a.calleeName(place) ?? '');
  return place?.kind === 'Let' ? place.exported === true : place?.kind === 'ExprStmt';
}

/** Names that a file reads of `this`: options call each other so, and no type says it. */
function membersOfThis(a: Analysis, file: File): ReadonlySet<string> {
  return a.once<File, ReadonlySet<string>>('members-of-this', file, new Set(), () => {
    const names = new Set<string>();
    a.eachBelow(file, node => {
      if (node.kind === 'Member' && node.object.kind === 'This') names.add(node.name);
      return undefined;
    });
    return names;
  });
}
