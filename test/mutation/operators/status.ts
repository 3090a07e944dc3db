/** Faults of callbacks: a status that is not looked at any more, or that is said to be a success. Kotlin. */
import type { AnyNode, Arm, Branch, Call, Expr, Fn, Let, Param } from '../../../server/ir/ir.js';
import type { Ground } from '../ground.js';
import type { Edit, Place, Planted } from '../mutant.js';
import type { Operator } from './operator.js';

export const statusCheckDropped: Operator = {
  name: 'status-check-dropped', plants: 'a comparison of the status is taken out', language: 'kotlin', rule: 'status-unchecked',
  *plant(ground) {
    const ways = new StatusWays(ground);
    for (const test of ways.tests()) {
      const edit = without(ground, test);
      if (edit === undefined) continue;
      const { places, level } = ways.owed(test.of);
      const others = ways.tests().filter(({ of, expr }) => of === test.of && expr !== test.expr);
      yield {
        edits: [edit], places, level: others.some(({ expr }) => onlyLogs(ground, expr)) ? 'hint' : level,
        equivalent: onlyLogs(ground, test.expr) && others.length > 0 ? 'what was taken out only logs, and another comparison remains' : undefined,
      };
    }
    for (const branch of ground.all('Branch')) {
      const of = branch.subject && ways.statusParam(branch.subject);
      const arm = branch.arms.find(({ tests }) => tests.some((test) => 'when' in test && isSuccess(test.when)));
      if (of !== undefined && arm !== undefined) yield { edits: [ground.replace(branch, ground.inside(arm.body))], ...ways.owed(of) };
    }
  },
};

export const statusReplaced: Operator = {
  name: 'status-replaced', plants: 'GATT_SUCCESS is handed on in place of the status', language: 'kotlin', rule: 'status-unchecked',
  *plant(ground) {
    const ways = new StatusWays(ground);
    for (const call of ground.all('Call')) yield* replacedIn(ground, ways, call);
  },
};

function* replacedIn(ground: Ground, ways: StatusWays, call: Call): Iterable<Planted> {
  for (const { value } of call.args) {
    const param = ways.statusParam(value);
    if (param === undefined || value.kind !== 'Name') continue;
    const decl = ground.resolver.declFor(param)!;
    if (ground.resolver.readsOf(decl).length > 1) continue;
    yield { edits: [ground.replace(value, 'BluetoothGatt.GATT_SUCCESS')], ...ways.owed(param) };
  }
}

/** A comparison of a status with success, or the name of a local that holds one. */
interface StatusTest {
  readonly expr: Expr;
  /** It is true when the operation succeeded. */
  readonly success: boolean;
  /** The status that it is about; `message` for one that came in a message. */
  readonly of: Param | 'message';
}

/** How statuses go from the callbacks' parameters through the project's functions. */
class StatusWays {
  /** Parameters that hold a status, and the callbacks it came from. */
  private readonly params = new Map<Param, Set<Fn>>();
  private readonly inMessages = new Set<Fn>();

  constructor(private readonly ground: Ground) {
    for (const fn of ground.all('Fn')) {
      const callback = ground.resolver.isPlatformCallback(fn);
      const index = callback?.type === 'BluetoothGattCallback' ? callback.member.params?.findIndex(({ is }) => is === 'status') ?? -1 : -1;
      const param = fn.params[index];
      if (param !== undefined) this.follow(param, new Set([fn]));
    }
  }

  private follow(param: Param, from: ReadonlySet<Fn>): void {
    const known = this.params.get(param) ?? new Set();
    if ([...from].every((fn) => known.has(fn))) return;
    this.params.set(param, new Set([...known, ...from]));
    for (const call of this.ground.all('Call')) {
      if (!call.args.some(({ value }) => this.paramOf(value) === param)) continue;
      if (this.ground.memberOf(call)?.name === 'obtainMessage') this.params.get(param)!.forEach((fn) => this.inMessages.add(fn));
      for (const fn of this.ground.resolver.calleeOf(call).fns) {
        for (const next of fn.params) {
          const value = this.ground.resolver.argumentFor(call, fn, next);
          if (value !== undefined && this.paramOf(value) === param) this.follow(next, this.params.get(param)!);
        }
      }
    }
  }

  private paramOf(expr: Expr): Param | undefined {
    const decl = expr.kind === 'Name' ? this.ground.resolver.declOf(expr) : undefined;
    return decl?.is === 'param' ? decl.node : undefined;
  }

  /** The parameter, if an expression is nothing but a status. */
  statusParam(expr: Expr): Param | undefined {
    const param = this.paramOf(expr);
    return param !== undefined && this.params.has(param) ? param : undefined;
  }

  private statusOf(expr: Expr): Param | 'message' | undefined {
    if (expr.kind === 'Member' && expr.name === 'arg1' && this.inMessages.size > 0) return 'message';
    return this.statusParam(expr);
  }

  tests(): readonly StatusTest[] {
    const found: StatusTest[] = [];
    for (const binary of this.ground.all('Binary')) {
      if (binary.op !== '==' && binary.op !== '!=') continue;
      const of = isSuccess(binary.right) ? this.statusOf(binary.left) : isSuccess(binary.left) ? this.statusOf(binary.right) : undefined;
      if (of === undefined) continue;
      const test: StatusTest = { expr: binary, success: binary.op === '==', of };
      found.push(test, ...this.namesOf(test));
    }
    return found;
  }

  /** `val failed = status != GATT_SUCCESS`: where `failed` is read. */
  private namesOf(test: StatusTest): StatusTest[] {
    const parent = this.ground.parent(test.expr);
    if (parent?.kind !== 'Let') return [];
    const decl = this.ground.resolver.declFor(parent satisfies Let, parent.bindings[0]);
    const reads = decl === undefined ? [] : this.ground.resolver.readsOf(decl);
    return reads.map((expr) => ({ expr, success: test.success, of: test.of }));
  }

  /**
   * Where the rule points: the heads of the callbacks that the status came from. Worth a hint only is an MTU that nobody
   * uses, and the state of a connection where the callback still closes when it is not connected.
   */
  owed(of: Param | 'message'): { readonly places: readonly Place[]; readonly level: 'warning' | 'hint' } {
    const callbacks = [...(of === 'message' ? this.inMessages : this.params.get(of)!)];
    const { resolver } = this.ground;
    const isMild = (fn: Fn): boolean => (fn.name === 'onMtuChanged' && resolver.readsOf(resolver.declFor(fn.params[1]!)!).length === 0)
      || (fn.name === 'onConnectionStateChange' && this.ground.reaches(fn, 'closes-link'));
    return {
      places: callbacks.map((fn) => this.ground.place(fn, fn.headSpan ?? fn.span)),
      level: callbacks.every(isMild) ? 'hint' : 'warning',
    };
  }
}

function isSuccess(expr: Expr): boolean {
  return (expr.kind === 'Member' || expr.kind === 'Name') && expr.name === 'GATT_SUCCESS';
}

/** `if (status != GATT_SUCCESS) { Log.w(…) }`: it decides nothing. */
function onlyLogs(ground: Ground, test: Expr): boolean {
  const branch = ground.parent(test);
  return branch?.kind === 'Branch' && branch.arms.length === 1 && branch.arms[0]!.body.stmts.every((stmt) =>
    stmt.kind === 'ExprStmt' && stmt.expr.kind === 'Call' && stmt.expr.callee.kind === 'Member' && ground.slice(stmt.expr.callee.object) === 'Log');
}

// ---- Taking a test out --------------------------------------------------

function without(ground: Ground, { expr, success }: StatusTest): Edit | undefined {
  const parent = ground.parent(expr);
  if (parent?.kind === 'Branch') return fromBranch(ground, parent, expr, success);
  if (parent?.kind === 'Binary' && (parent.op === '&&' || parent.op === '||')) {
    return ground.replace(parent, ground.slice(parent.left === expr ? parent.right : parent.left));
  }
  return expr.kind === 'Binary' ? ground.replace(expr, String(success)) : undefined;
}

/** What is left of a branch when the operation is taken to have succeeded. */
function fromBranch(ground: Ground, branch: Branch, test: Expr, success: boolean): Edit | undefined {
  const arm = branch.arms.find(({ tests }) => tests.some((one) => 'when' in one && one.when === test));
  if (arm === undefined || arm.tests.length !== 1) return undefined;
  if (!ground.slice(branch).startsWith('if')) return success ? undefined : removedArm(ground, branch, arm);
  const other = branch.arms.find((one) => one !== arm);
  const left = success ? arm : other;
  const statement: AnyNode = ground.parent(branch)?.kind === 'Choose' ? ground.parent(branch)! : branch;
  if (left !== undefined) return ground.replace(statement, ground.inside(left.body));
  return success || statement !== branch ? undefined : ground.remove(branch);
}

function removedArm(ground: Ground, branch: Branch, { span }: Arm): Edit {
  const path = ground.pathOf(branch);
  const text = ground.textOf(path);
  return { path, at: { start: text.lastIndexOf('\n', span.start) + 1, end: text.indexOf('\n', span.end) + 1 }, text: '' };
}
