/** What means the same to a compiler means the same here: another order of files, another name of a local, another layout. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { AnyNode, File, Fn, Let, Name } from '../../server/ir/ir.js';
import { findAll, walk } from '../../server/ir/walk.js';
import type { Program, Resolver } from '../../server/resolve/api.js';
import { apps, before, check, demo, fingerprints, ruleSources, SEED, sources, type Project, type Said } from './projects.js';

const projects = [demo, ...apps];

/** The demo takes its time. */
function runsOn(project: Project): number {
  return project === demo ? 6 : 12;
}

/** Small, and with a finding each. */
const faulty = ruleSources().filter((project) => before(project).said.length > 0);

describe('another order of files', () => {
  it.each(projects)('says the same of $name', (project) => {
    fc.assert(fc.property(fc.infiniteStream(fc.nat()), (numbers) => {
      const shuffled = <T>(all: readonly T[]): readonly T[] =>
        all.map((one) => ({ one, key: numbers.next().value as number })).sort((a, b) => a.key - b.key).map(({ one }) => one);
      const { said, problems } = check(project.files, { link: (files) => shuffled(files), check: (paths) => shuffled(paths) });
      expect(problems).toEqual([]);
      expect(fingerprints(said)).toEqual(fingerprints(before(project).said));
    }), { numRuns: runsOn(project) / 2, seed: SEED });
  });
});

// ---- Another name -------------------------------------------------------

interface Local {
  readonly path: string;
  readonly name: string;
  /** Where it is written, in the order of the text. */
  readonly at: readonly number[];
}

/** Locals of one name that a declaration binds whole, and every place that writes or reads them. */
function localsIn(project: Project): readonly Local[] {
  const { snapshot } = before(project);
  return sources(project).flatMap((path) => {
    const file = snapshot.fileOf(path)!;
    const text = project.files.get(path)!;
    const shorthands = shorthandsIn(file);
    return findAll(file, 'Let').flatMap((node): Local[] => {
      const [binding, ...others] = node.bindings;
      if (binding === undefined || others.length > 0 || binding.path.length > 0 || node.exported) return [];
      const places = placesOf(node, snapshot.resolver);
      const at = places?.map(({ span }) => span.start).concat(binding.span.start).sort((a, b) => a - b);
      const isPlain = at?.every((start) => text.startsWith(binding.name, start) && !shorthands.has(start));
      // A name that stands for something else too in the function might be caught by it or catch it.
      const around = outermostFunction(snapshot.program, node) ?? file;
      const isOwn = (text.slice(around.span.start, around.span.end).match(new RegExp(`\\b${binding.name}\\b`, 'g')) ?? []).length === at?.length;
      return at !== undefined && isPlain && isOwn ? [{ path, name: binding.name, at }] : [];
    });
  });
}

function placesOf(node: Let, resolver: Resolver): readonly Name[] | undefined {
  const decl = resolver.declFor(node, node.bindings[0]);
  if (decl === undefined) return undefined;
  const written = resolver.writesTo(decl).flatMap((write) => (write.kind === 'Assign' ? [write.target] : []));
  return [...new Set([...resolver.readsOf(decl), ...written])].filter((expr): expr is Name => expr.kind === 'Name');
}

function outermostFunction(program: Program, node: AnyNode): Fn | undefined {
  let found: Fn | undefined;
  for (let fn = program.enclosingFn(node); fn !== undefined; fn = program.enclosingFn(fn)) found = fn;
  return found;
}

/** `{ name }`: the name is a property's as well. */
function shorthandsIn(file: File): ReadonlySet<number> {
  const found = new Set<number>();
  walk(file, (node) => {
    if (node.kind === 'Field' && node.initial?.kind === 'Name' && node.initial.span.start === node.nameSpan.start) found.add(node.initial.span.start);
  });
  return found;
}

describe('another name of a local', () => {
  function expectSameUnder(project: Project, { path, name, at }: Local, other: string): void {
    const text = project.files.get(path)!;
    let renamed = '';
    let from = 0;
    for (const start of at) {
      renamed += text.slice(from, start) + other;
      from = start + name.length;
    }
    const { said, problems } = check(new Map(project.files).set(path, renamed + text.slice(from)));
    expect(problems).toEqual([]);
    expect(said.map(withoutText), `${path}: ${name} → ${other}`).toEqual(before(project).said.map(withoutText));
  }

  function withoutText({ rule, severity, path, within, line }: Said): string {
    return `${path}:${line} ${rule} ${severity} ${within}`;
  }

  const other = fc.stringMatching(/^[a-z]{1,8}Qx$/);

  it.each(projects)('says the same of $name', (project) => {
    const local = fc.constantFrom(...localsIn(project));
    fc.assert(fc.property(local, other, (one, name) => expectSameUnder(project, one, name)), { numRuns: runsOn(project), seed: SEED });
  });

  it('has enough locals to rename', () => {
    expect(projects.flatMap(localsIn).length).toBeGreaterThan(150);
  });

  it('says the same of small sources with a fault', () => {
    const all = faulty.flatMap((project) => localsIn(project).map((local) => ({ project, local })));
    fc.assert(fc.property(fc.constantFrom(...all), other, ({ project, local }, name) => expectSameUnder(project, local, name)), { numRuns: 80, seed: SEED });
  });
});

// ---- Another layout -----------------------------------------------------

/** Lines before which another may stand: not inside a text or a comment, nor behind a comment, which may belong to what follows. */
function gapsIn(project: Project, path: string): readonly number[] {
  const file = before(project).snapshot.fileOf(path)!;
  const text = project.files.get(path)!;
  const closed = [...file.comments, ...findAll(file, 'Literal').map(({ span }) => span), ...findAll(file, 'Template').map(({ span }) => span)];
  const gaps: number[] = [];
  for (let at = 0; at >= 0 && at < text.length; at = text.indexOf('\n', at) + 1 || -1) {
    const above = text.slice(text.lastIndexOf('\n', at - 2) + 1, Math.max(0, at - 1));
    const isInside = closed.some(({ start, end }) => start < at && at < end);
    if (!isInside && !/\/\/|\*\/\s*$/.test(above)) gaps.push(at);
  }
  return gaps;
}

describe('another layout', () => {
  const lines = fc.constantFrom('\n', '\n\n', '// Further down.\n', '    /* Between. */\n');

  function expectSameShifted(project: Project, path: string, inserted: readonly { readonly at: number; readonly lines: string }[]): void {
    const text = project.files.get(path)!;
    const inOrder = [...inserted].sort((a, b) => b.at - a.at);
    const moved = inOrder.reduce((out, one) => out.slice(0, one.at) + one.lines + out.slice(one.at), text);
    const { said, problems } = check(new Map(project.files).set(path, moved));
    const shift = (one: Said): number => (one.path === path
      ? inserted.filter(({ at }) => at <= text.lastIndexOf('\n', one.at.start - 1) + 1).reduce((sum, { lines }) => sum + lines.split('\n').length - 1, 0) : 0);
    expect(problems).toEqual([]);
    expect(fingerprints(said)).toEqual(fingerprints(before(project).said));
    expect(said.map(({ path, line, rule }) => `${path}:${line} ${rule}`)).toEqual(before(project).said.map((one) => `${one.path}:${one.line + shift(one)} ${one.rule}`));
  }

  const insertions = fc.array(fc.tuple(fc.nat(), lines), { minLength: 1, maxLength: 6 });

  function shifted(project: Project, which: number, where: readonly (readonly [number, string])[]): void {
    const paths = sources(project);
    const path = paths[which % paths.length]!;
    const gaps = gapsIn(project, path);
    // Inside of markup a comment would be text, so there only blank lines are put in.
    const isMarkup = path.endsWith('.tsx');
    expectSameShifted(project, path, where.map(([at, text]) => ({ at: gaps[at % gaps.length]!, lines: isMarkup ? '\n' : text })));
  }

  it.each(projects)('shifts what is said of $name, and keeps it', (project) => {
    fc.assert(fc.property(fc.nat(), insertions, (which, where) => shifted(project, which, where)), { numRuns: runsOn(project), seed: SEED });
  });

  it('shifts what is said of small sources with a fault, and keeps it', () => {
    fc.assert(fc.property(fc.constantFrom(...faulty), fc.nat(), insertions, shifted), { numRuns: 150, seed: SEED });
  });
});
