/**
 * What tests before a place have settled about a value: that it is not null, or of which type it is.
 *
 * Looks outward from the place: the condition of the branch arm it stands in and those of the arms before, the left side
 * of `&&` and `||`, and earlier statements of the same blocks that leave when the test fails, or that assign. A test counts
 * only as long as nothing assigns the value between the test and the place.
 */
import type { AnyNode, Arm, Block, Branch, Expr, Stmt, Test } from '../ir/ir.js';
import type { Ty } from './api.js';
import { fits } from './compare.js';
import type { Core } from './core.js';
import { inType } from './members.js';
import { asNullable, isVague, join, nonNull } from './types.js';

/** The type that a name or member access has at its place. */
export function narrowed(core: Core, expr: Expr, type: Ty | undefined): Ty | undefined {
  if (type !== undefined && !canNarrow(type)) return type;
  const path = pathText(expr);
  if (path === undefined || isTarget(core, expr)) return type;
  return new Narrowing(core, expr, path).apply(type);
}

/** A type that no test can say more about: one that is known, not null, and has no subtypes worth knowing. */
function canNarrow(type: Ty): boolean {
  if (type.nullable || isVague(type) || type.union !== undefined || type.name === 'EventTarget') return true;
  if (type.meta === true) return false;
  if (type.class !== undefined) return type.class.form !== 'object' && type.class.form !== 'enum';
  return type.platform?.kind === 'interface' && type.platform.language === 'kotlin';
}

function isTarget(core: Core, expr: Expr): boolean {
  const parent = core.program.parentOf(expr);
  return parent?.kind === 'Assign' && parent.target === expr;
}

/** `a.b.c` and `this.a.b`: places that hold the same value when read twice, nothing between. */
export function pathText(expr: Expr): string | undefined {
  switch (expr.kind) {
    case 'Name': return expr.name;
    case 'This': return expr.label === undefined ? 'this' : `this@${expr.label}`;
    case 'Member': {
      const object = pathText(expr.object);
      return object && `${object}.${expr.name}`;
    }
    case 'Index': {
      const object = pathText(expr.object);
      const index = expr.index.kind === 'Literal' ? String(expr.index.value) : pathText(expr.index);
      return object && index && `${object}[${index}]`;
    }
    case 'Unary': return expr.op === '!!' ? pathText(expr.value) : undefined;
    case 'Cast': return pathText(expr.value);
    default: return undefined;
  }
}

/** What a test says when it comes out as it did. */
interface Fact {
  readonly notNull?: true;
  readonly is?: Ty;
  readonly isNot?: Ty;
  /** `'name' in value` came out so. */
  readonly has?: { readonly name: string; readonly holds: boolean };
  /** The value was assigned: what it was assigned. */
  readonly assigned?: Ty;
}

class Narrowing {
  private readonly result: Fact[] = [];
  /** The name that the path begins with. */
  private readonly root: string;

  constructor(private readonly core: Core, private readonly expr: Expr, private readonly path: string) {
    const root = rootOf(expr);
    this.root = root.kind === 'Name' ? root.name : '';
  }

  apply(type: Ty | undefined): Ty | undefined {
    this.climb();
    let narrowedType = type;
    for (const fact of this.result.reverse()) narrowedType = this.with(narrowedType, fact);
    return narrowedType;
  }

  private with(type: Ty | undefined, fact: Fact): Ty | undefined {
    if (fact.assigned !== undefined) {
      if (type === undefined || isVague(type)) return fact.assigned;
      return fact.assigned.nullable ? asNullable(type) : nonNull(type);
    }
    const bare = fact.notNull && type ? nonNull(type) : type;
    if (fact.has !== undefined) return this.having(bare, fact.has.name, fact.has.holds);
    if (fact.isNot !== undefined) return this.without(bare, fact.isNot);
    if (fact.is === undefined) return bare;
    if (type === undefined || isVague(type)) return fact.is;
    if (bare?.union !== undefined) {
      const members = bare.union.filter((member) => fits(this.core, member, fact.is!) || fits(this.core, fact.is!, member));
      if (members.length > 0) return members.every((member) => fits(this.core, member, fact.is!)) ? joinMembers(members) : fact.is;
    }
    return bare !== undefined && fits(this.core, bare, fact.is) ? bare : fact.is;
  }

  private without(type: Ty | undefined, not: Ty): Ty | undefined {
    const members = type?.union?.filter((member) => !fits(this.core, member, not)) ?? [];
    return members.length === 0 ? type : joinMembers(members);
  }

  /** `'gatt' in x`: of a union, those that have it, or those that have it not. */
  private having(type: Ty | undefined, name: string, holds: boolean): Ty | undefined {
    const members = type?.union?.filter((member) => (inType(this.core, member, name, 'typescript') !== undefined) === holds) ?? [];
    return members.length === 0 ? type : joinMembers(members);
  }

  /** Outward from the place to the function around it; captured values that are never assigned keep what was known further out. */
  private climb(): void {
    const { program } = this.core;
    let child: AnyNode = this.expr;
    for (let node = program.parentOf(child); node !== undefined; child = node, node = program.parentOf(node)) {
      if (node.kind === 'Class' || node.kind === 'File') return;
      if (node.kind === 'Fn' && (this.isShadowedBy(node) || this.mayChange())) return;
      if (!this.at(node, child)) return;
    }
  }

  private isShadowedBy(fn: AnyNode & { readonly kind: 'Fn' }): boolean {
    return fn.params.some((param) => param.name === this.root || param.pattern?.some((each) => each.name === this.root));
  }

  /** Whether somebody may assign the value before a function that captured it runs. */
  private mayChange(): boolean {
    const root = rootOf(this.expr);
    if (root.kind !== 'Name') return true;
    const decl = this.core.referenceOf(root)?.decl;
    if (decl === undefined || decl.is === 'field') return decl?.is !== 'field' || decl.node.mutable;
    if (decl.is === 'local') return decl.node.kind === 'Let' && decl.node.mutable && this.core.writesTo(decl).length > 1;
    return decl.is !== 'param' || this.core.writesTo(decl).length > 0;
  }

  /** False: what lies further out no longer holds. */
  private at(node: AnyNode, child: AnyNode): boolean {
    switch (node.kind) {
      case 'Block': return this.block(node, child);
      case 'Branch': this.branch(node, child); return true;
      case 'Binary':
        if (child === node.right && node.op === '&&') this.when(node.left, true);
        if (child === node.right && node.op === '||') this.when(node.left, false);
        return true;
      case 'Loop':
        if (this.assignedIn(node)) return false;
        if (node.test !== undefined && node.testFirst && child === node.body) this.when(node.test, true);
        return true;
      case 'Member':
        // `x?.let { x }`: inside what is called on it, the value is there.
        return true;
      case 'Call': this.insideSafeCall(node, child); return true;
      default: return true;
    }
  }

  private insideSafeCall(call: AnyNode & { readonly kind: 'Call' }, child: AnyNode): void {
    if (child === call.callee) return;
    const { callee } = call;
    if (callee.kind === 'Member' && callee.safe !== undefined) this.notNull(callee.object);
  }

  private notNull(expr: Expr): void {
    if (pathText(expr) === this.path) this.result.push({ notNull: true });
    else if (expr.kind === 'Member' && expr.safe !== undefined) this.notNull(expr.object);
    else if (expr.kind === 'Call' && expr.callee.kind === 'Member' && expr.callee.safe !== undefined) this.notNull(expr.callee.object);
    if (expr.kind === 'Cast' && expr.safe === true) this.notNull(expr.value);
  }

  private branch(branch: Branch, child: AnyNode): void {
    const at = branch.arms.findIndex((arm) => arm.body === child || arm.guard === child || arm.tests.some((test) => 'when' in test && test.when === child));
    if (at < 0) return;
    if (branch.subject === undefined) for (const earlier of branch.arms.slice(0, at)) this.failed(earlier);
    else for (const earlier of branch.arms.slice(0, at)) this.unmatched(branch, earlier);
    const arm = branch.arms[at]!;
    if (arm.body !== child) return;
    if (arm.guard !== undefined) this.when(arm.guard, true);
    this.passed(branch, arm);
  }

  /** Every test of the arm failed; a guard may have failed instead. */
  private failed(arm: Arm): void {
    if (arm.guard !== undefined) return;
    for (const test of arm.tests) if ('when' in test) this.when(test.when, false);
  }

  private unmatched(branch: Branch, arm: Arm): void {
    if (arm.guard !== undefined || arm.tests.length === 0 || !this.isSubject(branch)) return;
    if (arm.tests.some((test) => 'when' in test && isNull(test.when))) this.result.push({ notNull: true });
  }

  private passed(branch: Branch, arm: Arm): void {
    if (arm.tests.length !== 1) {
      this.oneOf(branch, arm.tests);
      return;
    }
    const test = arm.tests[0]!;
    if (branch.subject === undefined) {
      if ('when' in test) this.when(test.when, true);
      return;
    }
    if (!this.isSubject(branch)) {
      if ('when' in test) this.subjectEquals(branch.subject, test.when);
      return;
    }
    if ('is' in test && test.not !== true) this.isType(this.core.typeOfRef(test.is, branch));
    if ('when' in test && !isNull(test.when) && test.when.kind === 'Literal') this.result.push({ notNull: true });
  }

  /** `when (x) { is A, is B -> }`: not null at least. */
  private oneOf(branch: Branch, tests: readonly Test[]): void {
    if (tests.length === 0 || branch.subject === undefined || !this.isSubject(branch)) return;
    if (tests.every((test) => 'is' in test && test.not !== true)) {
      const types = tests.map((test) => ('is' in test ? this.core.typeOfRef(test.is, branch) : undefined));
      const joined = types.reduce<Ty | undefined>((all, each) => join(all, each), undefined);
      this.isType(joined);
    }
  }

  private isSubject(branch: Branch): boolean {
    return branch.subjectName === this.path || (branch.subject !== undefined && pathText(branch.subject) === this.path);
  }

  /** `switch (true)`, or a match against something of the value (`x?.kind`): there is a value. */
  private subjectEquals(subject: Expr, value: Expr): void {
    if (subject.kind === 'Literal' && subject.value === true) this.when(value, true);
    else if (!isNull(value) && value.kind === 'Literal') this.notNull(subject);
  }

  private isType(type: Ty | undefined): void {
    if (type !== undefined) this.result.push({ notNull: true, is: type });
  }

  // ---- Statements before ----------------------------------------------------

  /** Earlier statements of the block, the nearest first; an assignment ends what was known before it. */
  private block(block: Block, child: AnyNode): boolean {
    const at = block.stmts.indexOf(child as Stmt);
    for (let i = at - 1; i >= 0; i--) {
      const stmt = block.stmts[i]!;
      if (stmt.kind === 'Assign' && stmt.op === undefined && pathText(stmt.target) === this.path) {
        const value = this.core.typeOf(stmt.value);
        if (value !== undefined && value.name !== 'null') this.result.push({ assigned: value });
        return false;
      }
      if (stmt.kind === 'Let' && stmt.bindings.some((each) => each.name === this.root)) return false;
      if (this.leavesUnless(stmt)) continue;
      if (this.assignedIn(stmt)) return false;
      this.evaluated(stmt);
    }
    return true;
  }

  /** `if (x == null) return`, `x ?: return`, `require(x != null)`: behind it the opposite holds. */
  private leavesUnless(stmt: Stmt): boolean {
    if (stmt.kind !== 'Branch' || stmt.subject !== undefined) return false;
    const [first] = stmt.arms;
    if (first === undefined || first.tests.length !== 1 || first.guard !== undefined) return false;
    const test = first.tests[0]!;
    if (!('when' in test) || this.assignedIn(stmt)) return false;
    if (leaves(first.body)) {
      this.when(test.when, false);
      return true;
    }
    const [, other] = stmt.arms;
    if (stmt.arms.length === 2 && other?.tests.length === 0 && leaves(other.body)) {
      this.when(test.when, true);
      return true;
    }
    return false;
  }

  /** What the mere evaluation of an earlier statement settles. */
  private evaluated(stmt: Stmt): void {
    const expr = stmt.kind === 'ExprStmt' ? stmt.expr : stmt.kind === 'Let' ? stmt.value : undefined;
    if (expr === undefined) return;
    if (expr.kind === 'Unary' && expr.op === '!!' && pathText(expr.value) === this.path) this.result.push({ notNull: true });
    if (expr.kind === 'Binary' && expr.op === '??' && expr.right.kind === 'Leave') this.notNull(expr.left);
    if (expr.kind === 'Cast' && expr.safe !== true && pathText(expr.value) === this.path) this.isType(this.core.typeOfRef(expr.type, expr));
    if (expr.kind === 'Call') this.asserted(expr);
    if (expr.kind === 'Binary' && expr.op === '||' && expr.right.kind === 'Leave') this.when(expr.left, true);
  }

  private asserted(call: Expr & { readonly kind: 'Call' }): void {
    if (call.callee.kind !== 'Name' || call.args[0] === undefined) return;
    const value = call.args[0].value;
    if (call.callee.name === 'require' || call.callee.name === 'check' || call.callee.name === 'assert') this.when(value, true);
    if (call.callee.name === 'requireNotNull' || call.callee.name === 'checkNotNull') this.notNull(value);
  }

  /** Whether something inside assigns the value, or a part of the way to it. */
  private assignedIn(node: AnyNode): boolean {
    return this.core.assignsPath(node, this.path);
  }

  // ---- Conditions ---------------------------------------------------------------

  /** What the condition says of the value when it comes out so. */
  private when(test: Expr, holds: boolean): void {
    switch (test.kind) {
      case 'Unary':
        if (test.op === '!') this.when(test.value, !holds);
        else if (test.op === '!!') this.when(test.value, holds);
        return;
      case 'Binary': this.comparison(test.op, test.left, test.right, holds); return;
      case 'Is':
        this.typeTest(test, (test.not !== true) === holds);
        return;
      case 'Call': this.predicate(test, holds); return;
      default:
        if (holds) this.truthy(test);
    }
  }

  private typeTest(test: Expr & { readonly kind: 'Is' }, isType: boolean): void {
    if (isType) this.notNull(test.value);
    if (pathText(test.value) !== this.path) return;
    const type = this.core.typeOfRef(test.type, test);
    if (isType) this.isType(type);
    else if (type !== undefined) this.result.push({ isNot: type });
  }

  private comparison(op: string, left: Expr, right: Expr, holds: boolean): void {
    if (op === '&&' && holds) { this.when(left, true); this.when(right, true); return; }
    if (op === '||' && !holds) { this.when(left, false); this.when(right, false); return; }
    if (op === 'in' && left.kind === 'Literal' && pathText(right) === this.path) { this.result.push({ has: { name: String(left.value), holds } }); return; }
    if (op !== '==' && op !== '!=') return;
    const equal = (op === '==') === holds;
    if (isNull(right)) { if (!equal) this.notNull(left); }
    else if (isNull(left)) { if (!equal) this.notNull(right); }
    else if (equal && isPresent(right)) this.notNull(left);
    else if (equal && isPresent(left)) this.notNull(right);
  }

  /** TypeScript: a value that counts as true is there. */
  private truthy(test: Expr): void {
    if (this.core.languageAt(test) === 'typescript') this.notNull(test);
  }

  private predicate(call: Expr & { readonly kind: 'Call' }, holds: boolean): void {
    if (holds) this.truthy(call);
    const { callee } = call;
    if (holds && callee.kind === 'Member' && callee.safe !== undefined) this.notNull(callee.object);
    if (!holds && callee.kind === 'Member' && (callee.name === 'isNullOrEmpty' || callee.name === 'isNullOrBlank')) this.notNull(callee.object);
  }
}

function joinMembers(members: readonly Ty[]): Ty | undefined {
  return members.reduce<Ty | undefined>((all, each) => join(all, each), undefined);
}

function rootOf(expr: Expr): Expr {
  return expr.kind === 'Member' || expr.kind === 'Index' ? rootOf(expr.object) : expr;
}

function isNull(expr: Expr): boolean {
  return expr.kind === 'Literal' && expr.value === null;
}

/** A value that is surely not null: equal to it means not null. */
function isPresent(expr: Expr): boolean {
  return expr.kind === 'Literal' && expr.value !== null;
}

/** Whether control never comes out of the end of a block. */
function leaves(block: Block): boolean {
  const last = block.stmts.at(-1);
  switch (last?.kind) {
    case 'Return':
    case 'Throw':
    case 'Jump':
      return true;
    case 'Block': return leaves(last);
    case 'ExprStmt': {
      const { expr } = last;
      return expr.kind === 'Leave' || (expr.kind === 'Call' && expr.callee.kind === 'Name' && (expr.callee.name === 'error' || expr.callee.name === 'TODO'));
    }
    case 'Branch': return last.arms.some((arm) => arm.tests.length === 0) && last.arms.every((arm) => leaves(arm.body));
    default: return false;
  }
}
