/**
 * What every lowered file keeps, checked.
 *
 * The checks are those that the model promises to all who read it: spans nest
 * and do not overlap, nothing stands twice in the tree, discarded values and
 * values of arms are told apart. They say nothing about whether a lowering is
 * right, only whether it is sound. Used by tests; an analysis never pays for it.
 */
import { MADE, type AnyNode, type Arm, type Block, type Branch, type File, type Span, type Try, type TypeRef } from './ir.js';
import { children, typesOf, walk } from './walk.js';

/** Each broken promise as one sentence; empty when the file is sound. `length` is that of the text, in UTF-16 code units. */
export function violations(file: File, length?: number): string[] {
  const found: string[] = [];
  const report: Report = (node, what) => found.push(`${node.kind} ${node.span.start}..${node.span.end}: ${what}`);
  const seen = new Set<AnyNode>();
  const places = new Map<AnyNode, Place>();
  walk(file, (node, parent) => {
    if (seen.has(node)) {
      report(node, 'stands twice in the tree');
      return 'skip';
    }
    seen.add(node);
    const place = placeOf(node, parent, parent && places.get(parent));
    places.set(node, place);
    checkSpan(node, parent, place, file, report);
    checkTypes(node, report, seen);
    checkSiblings(node, file, report);
    checkArmValues(node, parent, place, report);
    return undefined;
  });
  checkRanges(file, length, report);
  return found;
}

type Report = (node: AnyNode, what: string) => void;

/** What must be known of a node's surroundings: the nearest span around it, the class around it, and whether its block is the arm of a `Choose`. */
interface Place {
  readonly within: Span;
  readonly classSpan: Span | undefined;
  readonly valueArms: ReadonlySet<Block>;
}

const NO_ARMS: ReadonlySet<Block> = new Set();

function placeOf(node: AnyNode, parent: AnyNode | undefined, around: Place | undefined): Place {
  const outer = around?.within ?? node.span;
  const within = isMade(node.span) ? outer : node.span;
  const classSpan = node.kind === 'Class' ? within : around?.classSpan;
  if (parent?.kind === 'Choose') return { within, classSpan, valueArms: new Set(armBodies(node as Branch | Try)) };
  const isArmBody = node.kind === 'Block' && around !== undefined && around.valueArms.has(node);
  return { within, classSpan, valueArms: isArmBody ? new Set([node]) : NO_ARMS };
}

function armBodies(branch: Branch | Try): readonly Block[] {
  if (branch.kind === 'Branch') return branch.arms.map((arm: Arm) => arm.body);
  return [branch.body, ...branch.catches.map((caught) => caught.body)];
}

// ---- Spans --------------------------------------------------------------

function isMade(span: Span): boolean {
  return span === MADE || (span.start === MADE.start && span.end === MADE.end);
}

function contains(outer: Span, inner: Span): boolean {
  return isMade(inner) || isMade(outer) || (outer.start <= inner.start && inner.start <= inner.end && inner.end <= outer.end);
}

function checkSpan(node: AnyNode, parent: AnyNode | undefined, place: Place, file: File, report: Report): void {
  const { start, end } = node.span;
  if (!isMade(node.span) && !(0 <= start && start <= end)) report(node, 'is not a range');
  if (parent !== undefined && !isMade(node.span)) {
    const around = spanAround(parent, node, place, file);
    if (!contains(around, node.span)) report(node, `is not inside ${parent.kind} ${around.start}..${around.end}`);
  }
  for (const part of partsOf(node)) {
    if (!contains(node.span, part.span)) report(node, `does not hold its ${part.what} ${part.span.start}..${part.span.end}`);
  }
}

/** A Kotlin primary constructor's body gathers `init` blocks from all over the class, so the class is what it must lie in. */
function spanAround(parent: AnyNode, node: AnyNode, place: Place, file: File): Span {
  const isInitBody = file.language === 'kotlin' && parent.kind === 'Fn' && parent.name === 'constructor' && node.kind === 'Block';
  if (isInitBody && place.classSpan !== undefined) return place.classSpan;
  return isMade(parent.span) ? file.span : parent.span;
}

function partsOf(node: AnyNode): { what: string; span: Span }[] {
  const parts: { what: string; span: Span }[] = [];
  const add = (what: string, span: Span | undefined): void => { if (span !== undefined) parts.push({ what, span }); };
  switch (node.kind) {
    case 'Class':
    case 'Field':
    case 'Member':
      add('name', node.nameSpan);
      break;
    case 'Fn':
      add('name', node.nameSpan);
      add('head', node.headSpan);
      break;
    case 'Let':
      for (const binding of node.bindings) add('binding', binding.span);
      break;
    case 'Param':
      for (const binding of node.pattern ?? []) add('binding', binding.span);
      break;
    case 'Loop':
      for (const binding of node.over?.bindings ?? []) add('binding', binding.span);
      break;
    case 'Branch':
      for (const arm of node.arms) add('arm', arm.span);
      break;
    case 'Try':
      for (const caught of node.catches) add('catch', caught.span);
      break;
  }
  return parts;
}

/** Kotlin's context parameters are written before the others and kept behind them. */
function isContext(node: AnyNode): boolean {
  return node.kind === 'Param' && node.implicit === true;
}

/** A field declared by a constructor parameter shares the parameter's text and type; one with accessors takes its type from them. */
function sharesText(node: AnyNode): boolean {
  return node.kind === 'Field' && node.fromParam === true;
}

function checkTypes(node: AnyNode, report: Report, seen: Set<AnyNode>): void {
  if (sharesText(node) || (node.kind === 'Field' && (node.getter ?? node.setter) !== undefined)) return;
  const check = (type: TypeRef, outer: Span): void => {
    if (!contains(outer, type.span)) report(node, `does not hold its type ${type.name} ${type.span.start}..${type.span.end}`);
    if (type.receiver !== undefined) check(type.receiver, type.span);
    for (const arg of type.args) check(arg, type.span);
    if (type.members === undefined) return;
    if (!contains(type.span, type.members.span)) report(type.members, 'is not inside its type');
    walk(type.members, (member) => {
      if (seen.has(member)) report(member, 'stands twice in the tree');
      seen.add(member);
      if (!contains(type.members!.span, member.span)) report(member, 'is not inside its type literal');
      for (const inner of typesOf(member)) check(inner, member.span);
    });
  };
  for (const type of typesOf(node)) check(type, node.span);
}

/** A file's declarations and statements are told from its imports, for those of `declare module` blocks stand inside declarations. */
function checkSiblings(node: AnyNode, file: File, report: Report): void {
  if (node.kind !== 'File') return checkOverlap(node, siblingsOf(node, file), report);
  checkOverlap(node, node.imports, report);
  checkOverlap(node, [...node.declarations, ...node.body.stmts], report);
}

function checkOverlap(node: AnyNode, siblings: readonly AnyNode[], report: Report): void {
  const placed = siblings.filter((child) => !isMade(child.span) && !sharesText(child) && !isContext(child));
  if (!keepsSourceOrder(node)) placed.sort((a, b) => a.span.start - b.span.start || a.span.end - b.span.end);
  for (let i = 1; i < placed.length; i++) {
    const [before, after] = [placed[i - 1]!, placed[i]!];
    if (before.span.end <= after.span.start) continue;
    report(node, `its ${before.kind} ${before.span.start}..${before.span.end} reaches into its ${after.kind} ${after.span.start}..${after.span.end}`);
  }
}

function siblingsOf(node: AnyNode, file: File): readonly AnyNode[] {
  if (file.language === 'kotlin' && node.kind === 'Fn' && node.name === 'constructor') {
    return children(node).filter((child) => child.kind !== 'Block');
  }
  return children(node);
}

/** False for the few nodes whose evaluation order is not that of the text, and for lists gathered by kind. */
function keepsSourceOrder(node: AnyNode): boolean {
  switch (node.kind) {
    case 'File':
    case 'Class':
    case 'Field':
    case 'Let':
    case 'Param':
    case 'Loop':
      return false;
    case 'Branch':
      return node.subject === undefined;
    default:
      return true;
  }
}

// ---- Values of arms -----------------------------------------------------

function checkArmValues(node: AnyNode, parent: AnyNode | undefined, place: Place, report: Report): void {
  if (node.kind === 'Yield' && !(parent?.kind === 'Block' && parent.stmts.at(-1) === node)) {
    report(node, 'is not the last statement of its block');
  }
  if (node.kind !== 'Block') return;
  const isArm = place.valueArms.has(node);
  const last = node.stmts.at(-1);
  if (isArm && last?.kind === 'ExprStmt') report(last, 'is the value of an arm, so it should be a Yield');
  if (!isArm && last?.kind === 'Yield') report(last, 'is not inside the arm of a Choose');
}

// ---- Whole file ---------------------------------------------------------

function checkRanges(file: File, length: number | undefined, report: Report): void {
  if (length !== undefined && (file.span.start !== 0 || file.span.end !== length)) report(file, `does not span its text of ${length}`);
  for (const [what, spans] of [['comment', file.comments], ['unreadable range', file.unreadable]] as const) {
    spans.forEach((span, i) => {
      const at = `${what} ${span.start}..${span.end}`;
      if (!contains(file.span, span)) report(file, `${at} is not inside the file`);
      if (i > 0 && span.start < spans[i - 1]!.end) report(file, `${at} reaches into the one before`);
    });
  }
}
