/**
 * What a bare name can mean at a place, from the inside out.
 *
 * Up to the next class: variables, parameters and local functions, then the receivers that functions and lambdas have
 * (Kotlin's extensions and `apply { }`). At a class of Kotlin: its members, inherited ones too, and what the primary
 * constructor was given. So on outwards to the file: its own declarations, imports, its package. TypeScript has no
 * implicit receivers: of its classes, namespaces alone add their members.
 */
import type { AnyNode, Block, Class, File, Fn, Language, Param } from '../ir/ir.js';
import type { Decl } from './api.js';
import { blockDeclarations, blockVariables } from './blocks.js';
import type { Core, Found } from './core.js';
import { localDecl, memberDecl, paramDecl } from './decls.js';
import { inType } from './members.js';
import { fileLevel } from './modules.js';

/** Shows the meanings one by one until `take` accepts one. */
export function eachMeaning<T>(core: Core, name: string, at: AnyNode, take: (found: Found) => T | undefined): T | undefined {
  const climb = new Climb(core, name, at);
  return climb.run(take);
}

class Climb {
  private readonly language: Language;

  constructor(private readonly core: Core, private readonly name: string, private readonly at: AnyNode) {
    this.language = core.languageAt(at);
  }

  run<T>(take: (found: Found) => T | undefined): T | undefined {
    const { program } = this.core;
    let functions: Fn[] = [];
    let child: AnyNode = this.at;
    for (let node = program.parentOf(child); node !== undefined; child = node, node = program.parentOf(node)) {
      if (node.kind === 'Class') {
        const taken = this.receivers(functions, take) ?? this.classLevel(node, child, take);
        if (taken !== undefined) return taken;
        functions = [];
        continue;
      }
      if (node.kind === 'File') {
        const value = node.body === child ? undefined : this.inBlock(node.body, child);
        return this.takeDecl(value, take) ?? this.receivers(functions, take) ?? this.fileLevel(node, take);
      }
      if (node.kind === 'Fn' && child.kind !== 'Annotation') functions.push(node);
      if (node.kind === 'Field' && node.receiver !== undefined && child.kind === 'Fn') functions.push(child);
      const taken = this.takeDecl(this.local(node, child), take);
      if (taken !== undefined) return taken;
    }
    return undefined;
  }

  private takeDecl<T>(decl: Decl | undefined, take: (found: Found) => T | undefined): T | undefined {
    return decl && take({ decls: [decl] });
  }

  private local(node: AnyNode, child: AnyNode): Decl | undefined {
    switch (node.kind) {
      case 'Block': return this.inBlock(node, child);
      case 'Fn': return this.param(node);
      case 'Loop': {
        // Kotlin's `do { val ok = … } while (!ok)` sees what its body declares.
        if (this.language === 'kotlin' && !node.testFirst && child === node.test) return this.inBlock(node.body, child);
        const binding = child === node.over?.source ? undefined : node.over?.bindings.find((each) => each.name === this.name);
        if (binding !== undefined) return localDecl(this.core.program, node, this.name, binding);
        for (const stmt of node.before ?? []) {
          const own = stmt.kind === 'Let' && stmt !== child ? stmt.bindings.find((each) => each.name === this.name) : undefined;
          if (own !== undefined && stmt.kind === 'Let') return localDecl(this.core.program, stmt, this.name, own);
        }
        return undefined;
      }
      case 'Field': {
        const isBacking = this.name === 'field' && child.kind === 'Fn' && child.name !== undefined && this.language === 'kotlin';
        return isBacking ? memberDecl(this.core.program, node) : undefined;
      }
      case 'Try': {
        const isCaught = node.catches.some((caught) => caught.param === this.name && caught.body === child);
        return isCaught ? localDecl(this.core.program, node, this.name) : undefined;
      }
      case 'Branch': return node.subjectName === this.name && child !== node.subject ? localDecl(this.core.program, node, this.name) : undefined;
      default: return undefined;
    }
  }

  private param(fn: Fn): Decl | undefined {
    for (const param of fn.params) {
      if (param.name === this.name && !this.isNobody(fn, param)) return paramDecl(this.core.program, param, fn, this.name);
      const binding = param.pattern?.find((each) => each.name === this.name);
      if (binding !== undefined) return paramDecl(this.core.program, param, fn, this.name, binding);
    }
    return undefined;
  }

  /** An implicit `it` of a lambda that is known to be given nothing belongs to a lambda further out. */
  private isNobody(fn: Fn, param: Param): boolean {
    if (param.implicit !== true || this.name !== 'it') return false;
    const lambda = this.core.program.parentOf(fn);
    const shape = lambda?.kind === 'Lambda' ? this.core.expectedType(lambda)?.fn : undefined;
    return shape !== undefined && shape.params.length === 0;
  }

  /** The last declaration before the place; from inside a function also a later one, for that runs later. */
  private inBlock(block: Block, child: AnyNode): Decl | undefined {
    const candidates = blockVariables(block).get(this.name);
    if (candidates !== undefined) {
      const before = candidates.findLast(({ node }) => node !== child && node.span.start <= child.span.start);
      const bound = before ?? candidates.find(({ node }) => this.isSeenFrom(node, child));
      if (bound !== undefined) return localDecl(this.core.program, bound.node, this.name, bound.binding);
    }
    const declared = blockDeclarations(block).get(this.name)?.filter((each) => each.kind !== 'TypeAlias');
    const lead = declared?.find((each) => each.kind === 'Fn' && each.body !== undefined) ?? declared?.[0];
    return lead && memberDecl(this.core.program, lead);
  }

  /** TypeScript's functions see variables that are declared further down, and the one whose value they stand in. */
  private isSeenFrom(node: AnyNode, child: AnyNode): boolean {
    if (this.language === 'kotlin') return node !== child && child.kind === 'LocalDecl';
    if (child.kind === 'LocalDecl' || child.kind === 'Class' || child.kind === 'Fn' || child.kind === 'Field') return true;
    for (let at = this.core.program.parentOf(this.at); at !== undefined && at !== child && at !== node; at = this.core.program.parentOf(at)) {
      if (at.kind === 'Fn') return true;
    }
    return false;
  }

  /** Extension receivers and receivers of lambdas, innermost first. */
  private receivers<T>(functions: readonly Fn[], take: (found: Found) => T | undefined): T | undefined {
    if (this.language !== 'kotlin') return undefined;
    for (const fn of functions) {
      const receiver = this.core.receiverOf(fn);
      const found = receiver && inType(this.core, receiver, this.name, this.language);
      const taken = found && take({ ...found, on: receiver, implicit: true });
      if (taken !== undefined) return taken;
    }
    return undefined;
  }

  private classLevel<T>(cls: Class, child: AnyNode, take: (found: Found) => T | undefined): T | undefined {
    if (this.language !== 'kotlin' && cls.form !== 'object') return this.ownName(cls, take);
    const taken = this.takeDecl(this.given(cls, child), take);
    if (taken !== undefined) return taken;
    const found = this.core.classNames(cls, this.name, () => inType(this.core, this.core.selfOf(cls), this.name, this.language));
    return (found && take({ ...found, implicit: true })) ?? this.ownName(cls, take);
  }

  /** A class expression's name is seen inside it alone. */
  private ownName<T>(cls: Class, take: (found: Found) => T | undefined): T | undefined {
    const isNamedExpression = cls.name === this.name && this.core.program.parentOf(cls)?.kind === 'ObjectExpr';
    return isNamedExpression ? take({ decls: [memberDecl(this.core.program, cls)] }) : undefined;
  }

  /**
   * The primary constructor's parameters are seen by initial values of properties and by what is handed to supertypes;
   * by functions, getters and nested classes they are not.
   */
  private given(cls: Class, child: AnyNode): Decl | undefined {
    const primary = cls.constructors[0];
    if (primary === undefined || this.language !== 'kotlin') return undefined;
    switch (child.kind) {
      case 'Fn':
      case 'Class':
      case 'EnumEntry':
      case 'Annotation':
        return undefined;
      case 'Field': return this.insideGetter(child) ? undefined : this.param(primary);
      default: return this.param(primary);
    }
  }

  private insideGetter(field: AnyNode): boolean {
    if (field.kind !== 'Field' || (field.getter === undefined && field.setter === undefined)) return false;
    for (let at: AnyNode | undefined = this.at; at !== undefined && at !== field; at = this.core.program.parentOf(at)) {
      // The lambda of `by lazy` has no name and is part of the construction; a written `get()` is a function of its own.
      if (at === field.setter || at === field.getter) return at.name !== undefined;
    }
    return false;
  }

  private fileLevel<T>(file: File, take: (found: Found) => T | undefined): T | undefined {
    for (const level of fileLevel(this.core, file, this.name)) {
      const taken = take(level);
      if (taken !== undefined) return taken;
    }
    return undefined;
  }
}
