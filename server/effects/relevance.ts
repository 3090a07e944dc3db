/**
 * The cheap question first: which files can have anything to do with a link at all. Names lead: a call of a name that has
 * a role in the catalogue, resolved; then, by name alone, whatever calls the functions around it, or runs the lambda it
 * stands in. It errs on the side of too much; nothing is decided here but where not to look.
 */
import type { AnyNode, Call, File } from '../ir/ir.js';
import type { Analysis } from './analysis.js';
import { callbackNames, namesWithRole } from './role-names.js';
import { roleOf } from './roles.js';

/** Whether a file can be of interest. */
export function concerns(a: Analysis, file: File): boolean {
  return relevantFiles(a).has(file);
}

function relevantFiles(a: Analysis): ReadonlySet<File> {
  return a.once<string, ReadonlySet<File>>('relevant-files', '', new Set(), () => {
    const files = new Set<File>();
    const names = new Set<string>();
    for (const call of seeds(a)) around(a, call, names, files);
    for (const name of names) for (const call of a.program.callsNamed(name)) around(a, call, names, files);
    for (const name of callbackNames()) {
      for (const fn of a.program.functionsNamed(name)) {
        const file = a.program.fileOf(fn);
        if (file && !files.has(file) && a.resolver.isPlatformCallback(fn)) files.add(file);
      }
    }
    return files;
  });
}

/** Calls of the program that do something to a link. */
function seeds(a: Analysis): readonly Call[] {
  const names = new Set([...namesWithRole(), ...[...a.words.wrappers.keys()].map(name => name.split('.').at(-1)!)]);
  return [...names].flatMap(name => a.program.callsNamed(name)).filter(call => roleOf(a, call) !== undefined);
}

/** Notes the names by which the place of a call can be reached: functions around it, and what takes the lambdas around it. */
function around(a: Analysis, call: Call, names: Set<string>, files: Set<File>): void {
  const file = a.program.fileOf(call);
  if (file) files.add(file);
  for (let node: AnyNode | undefined = call; node; node = a.program.parentOf(node)) {
    if (node.kind === 'Fn' && node.name !== undefined) {
      names.add(node.name);
      if (node.name === 'constructor') addName(a.program.ownerOf(node)?.name, names);
    }
    if (node.kind === 'Lambda') addTakers(a, node, names);
    if (node.kind === 'Field') names.add(node.name);
    if (node.kind === 'Let') node.bindings.forEach(binding => names.add(binding.name));
    if (node.kind === 'Assign' && (node.target.kind === 'Name' || node.target.kind === 'Member')) names.add(node.target.name);
    if (node.kind === 'Class') addName(node.name, names);
  }
}

/** A function that is given a lambda runs it under its parameter's name. */
function addTakers(a: Analysis, lambda: AnyNode, names: Set<string>): void {
  const call = a.program.parentOf(lambda);
  const name = call?.kind === 'Call' ? a.calleeName(call) : undefined;
  if (name === undefined) return;
  for (const fn of a.program.functionsNamed(name)) {
    names.add(name);
    fn.params.forEach(param => addName(param.name, names));
  }
}

function addName(name: string | undefined, names: Set<string>): void {
  if (name) names.add(name);
}
