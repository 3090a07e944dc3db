/**
 * The cheap question first: what can have anything to do with a link at all. Names lead: a call of a name that has a role
 * in the catalogue, resolved; then, by name alone, whatever calls the functions around it, or runs the lambda it stands
 * in. It errs on the side of too much; nothing is decided here but where not to look.
 */
import type { AnyNode, Call, File } from '../ir/ir.js';
import type { Analysis } from './analysis.js';
import { callbackNames, namesWithRole } from './role-names.js';
import { roleOf } from './roles.js';

/** Whether a file can be of interest. */
export function concerns(a: Analysis, file: File): boolean {
  return reachOf(a).files.has(file);
}

/** Whether a call can lead to one that has a role, or is one; false for calls that nothing about a link depends on. */
export function mayLead(a: Analysis, call: Call): boolean {
  const name = a.calleeName(call);
  if (name === undefined || RUNS_A_VALUE.has(name)) return true;
  if (namesOf(a).has(name) || reachOf(a).names.has(name)) return true;
  // A function value is called by the name of what holds it, which says nothing of what it does.
  return a.program.functionsNamed(name).length === 0 && a.program.classesNamed(name).length === 0 && mayHoldFunction(a, call, name);
}

/** What a function value, or an object that stands for one, is run by. */
const RUNS_A_VALUE: ReadonlySet<string> = new Set(['invoke', 'run', 'call', 'apply', 'execute', 'accept', 'perform', 'start']);

function mayHoldFunction(a: Analysis, call: Call, name: string): boolean {
  return call.callee.kind === 'Name' || a.program.fieldsNamed(name).length > 0;
}

interface Reach {
  readonly files: ReadonlySet<File>;
  /** What is called by these leads to a link, as far as names tell. */
  readonly names: ReadonlySet<string>;
}

/** From the calls that have a role up through whatever may run them, by name. */
function reachOf(a: Analysis): Reach {
  return a.once<string, Reach>('reach', '', { files: new Set(), names: new Set() }, () => {
    const files = new Set<File>();
    const names = new Set<string>();
    const from = (file: File, around: Around): void => {
      files.add(file);
      for (const name of around.names) names.add(name);
      for (const taker of around.takers) addTaker(a, taker, names);
    };
    for (const file of a.program.files.values()) {
      const seeds = seedsIn(a, file);
      for (const call of seeds) from(file, aroundOf(a, call));
      if (seeds.length === 0 && hasCallback(a, file)) files.add(file);
    }
    // Names that are found on the way are visited in turn.
    for (const name of names) for (const file of a.program.filesCalling(name)) for (const call of a.program.callsIn(file, name)) from(file, aroundOf(a, call));
    return { files, names };
  });
}

/** The file's calls that do something to a link. */
function seedsIn(a: Analysis, file: File): readonly Call[] {
  return a.once<File, readonly Call[]>('seeds-in', file, [], () => {
    const seeds: Call[] = [];
    for (const name of namesOf(a)) for (const call of a.program.callsIn(file, name)) if (roleOf(a, call) !== undefined) seeds.push(call);
    return seeds;
  });
}

/** Names with a role: the catalogue's, and those of the project's own wrappers. */
function namesOf(a: Analysis): ReadonlySet<string> {
  return a.once<string, ReadonlySet<string>>('role-names', '', new Set(), () =>
    new Set([...namesWithRole(), ...[...a.words.wrappers.keys()].map(name => name.slice(name.lastIndexOf('.') + 1))]));
}

function hasCallback(a: Analysis, file: File): boolean {
  return a.once<File, boolean>('has-callback', file, false, () => {
    for (const name of callbackNames()) {
      for (const fn of a.program.functionsIn(file, name)) if (a.resolver.isPlatformCallback(fn)) return true;
    }
    return false;
  });
}

/** The names by which a place can be reached: of what stands around it, and of what takes the lambdas around it. */
interface Around {
  readonly names: readonly string[];
  readonly takers: readonly string[];
}

/** It is the text alone that tells, so it is known as long as the file is. */
const places = new WeakMap<Call, Around>();

function aroundOf(a: Analysis, call: Call): Around {
  let around = places.get(call);
  if (around === undefined) places.set(call, around = findAround(a, call));
  return around;
}

function findAround(a: Analysis, call: Call): Around {
  const names = new Set<string>();
  const takers = new Set<string>();
  let below: AnyNode | undefined;
  for (let node: AnyNode | undefined = call; node; below = node, node = a.program.parentOf(node)) {
    for (const name of namesOn(node)) if (name) names.add(name);
    if (below?.kind === 'Lambda' && node.kind === 'Call') {
      const taker = a.calleeName(node);
      if (taker !== undefined) takers.add(taker);
    }
  }
  return { names: [...names], takers: [...takers] };
}

/** What a node is called, or gives a value to. */
function namesOn(node: AnyNode): readonly (string | undefined)[] {
  switch (node.kind) {
    case 'Fn': return [node.name];
    case 'Field': case 'Class': return [node.name];
    case 'Let': return node.bindings.map(binding => binding.name);
    case 'Assign': return node.target.kind === 'Name' || node.target.kind === 'Member' ? [node.target.name] : [];
    default: return [];
  }
}

/** What is given a lambda runs it under its parameter's name, or keeps it in a property of that name. */
function addTaker(a: Analysis, taker: string, names: Set<string>): void {
  const fns = [...a.program.functionsNamed(taker), ...a.program.classesNamed(taker).flatMap(cls => cls.constructors)];
  if (fns.length > 0) names.add(taker);
  for (const fn of fns) for (const param of fn.params) if (param.name) names.add(param.name);
}
