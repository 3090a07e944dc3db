/** Ways to give a link back, made of what the code around already has. Which links need one is `link-not-closed.ts`. */
import type { Edit, Fix } from '../../server/engine/rule.js';
import type { LinkLife } from '../../server/effects/links.js';
import type { Facts } from '../../server/facts/facts.js';
import * as make from '../../server/ir/build.js';
import { MADE, type AnyNode, type Assign, type Block, type Call, type Expr, type Field, type FnRef, type Let, type Stmt } from '../../server/ir/ir.js';

export function fixesFor(facts: Facts, life: LinkLife): readonly Fix[] {
  return facts.file.language === 'kotlin' ? android(facts, life) : web(facts, life);
}

function review(title: string, edits: readonly (Edit | undefined)[]): Fix {
  return { title, trust: 'review', edits: edits.filter(edit => edit !== undefined) };
}

// ---- Android ------------------------------------------------------------

function android(facts: Facts, life: LinkLife): readonly Fix[] {
  const { verdict } = life;
  switch (verdict.is) {
    case 'dropped': return kept(facts, life);
    case 'never-ended': return inTeardown(facts, life);
    case 'overwritten': return verdict.how.is === 'stream' ? once(facts, life) : before(facts, life);
    case 'left-open': return onTheWayOut(facts, life);
    case 'forgotten': return [...inEndedBranch(facts, life), ...beforeLetGo(facts, life, verdict.how.at)];
    case 'weakly-closed': return [...(verdict.why.is === 'success' ? inFailedBranch(facts, life) : inEndedBranch(facts, life)), ...inTeardown(facts, life)];
    case 'never-closed': case 'unreached': {
      const found = [...inEndedBranch(facts, life), ...inTeardown(facts, life)];
      if (found.length > 0 || verdict.is === 'unreached') return found;
      const after = afterDisconnect(facts, life);
      return after.length > 0 ? after : beforeLetGo(facts, life, life.places.emptied[0]);
    }
    default: return [];
  }
}

/** `gatt?.close()`, and for a nullable property `gatt = null` after it. */
function closing(field: Field, empties: boolean, holder: Expr = make.name(field.name)): readonly Stmt[] {
  if (holder.kind === 'Name' && field.modifiers.has('lateinit')) {
    const reference: FnRef = { kind: 'FnRef', span: MADE, name: field.name };
    return [make.ifThen(make.member(reference, 'isInitialized'), [make.exprStmt(make.call(make.member(holder, 'close')))])];
  }
  const isNullable = field.type?.nullable === true || (field.type === undefined && field.initial?.kind === 'Literal');
  const close = make.exprStmt(make.call(make.member(holder, 'close', isNullable ? 'step' : undefined)));
  return empties && isNullable && field.mutable ? [close, make.assign(holder, make.literal(null))] : [close];
}

/** Closing what the field still has, before the next link is put there. */
function beforeOpening(facts: Facts, { open, places }: LinkLife): Edit | undefined {
  const stmt = statementOf(facts, open);
  if (!places.field || !stmt) return undefined;
  // `tracker.gatt = …`: the field of another object is named as the code names it.
  const target = stmt.kind === 'Assign' && stmt.target.kind === 'Member' ? stmt.target : undefined;
  if (!target && !isWithin(facts, stmt, places.field)) return undefined;
  return { do: 'insert', where: 'before', node: stmt, stmts: closing(places.field, false, target), path: facts.code.pathOf(stmt) };
}

/** Whether a place is in the class that has the field, so that its bare name means it there. */
function isWithin(facts: Facts, place: AnyNode, field: Field): boolean {
  const owner = facts.code.parentOf(field);
  for (let node: AnyNode | undefined = place; node; node = facts.code.parentOf(node)) if (node === owner) return true;
  return owner?.kind === 'File';
}

function before(facts: Facts, life: LinkLife): readonly Fix[] {
  const edit = beforeOpening(facts, life);
  return edit ? [review('Close the earlier link before this one is opened', [edit])] : [];
}

/** An edit in the life's own file, and the one before the opening that keeps a second link from taking its place. */
function withCare(facts: Facts, life: LinkLife, title: string, edit: Edit): readonly Fix[] {
  const care = life.places.overwrites ? beforeOpening(facts, life) : undefined;
  return life.places.overwrites && !care ? [] : [review(title, [edit, care])];
}

function inEndedBranch(facts: Facts, life: LinkLife): readonly Fix[] {
  const [place] = life.places.ended;
  return place ? withCare(facts, life, 'Close the link when it has ended', atTheBeginning(facts, place.block, closingOf(place.link))) : [];
}

function inFailedBranch(facts: Facts, life: LinkLife): readonly Fix[] {
  const [place] = life.places.failed;
  return place ? withCare(facts, life, 'Close the link when the attempt has failed', atTheBeginning(facts, place.block, closingOf(place.link))) : [];
}

function closingOf(link: { readonly name: string; readonly type?: { readonly nullable: boolean } }): Stmt {
  return make.exprStmt(make.call(make.member(make.name(link.name), 'close', link.type?.nullable ? 'step' : undefined)));
}

function atTheBeginning(facts: Facts, block: Block, ...stmts: Stmt[]): Edit {
  return { do: 'insert', where: 'before', node: block.stmts[0]!, stmts, path: facts.code.pathOf(block) };
}

function inTeardown(facts: Facts, life: LinkLife): readonly Fix[] {
  const { field, teardowns } = life.places;
  const [fn] = teardowns;
  if (!field || !fn) return [];
  const path = facts.code.pathOf(fn);
  // A condition further up may be what keeps the rest of the function from closing.
  const emptied = life.verdict.is === 'weakly-closed' ? undefined : fn.body!.stmts.find(stmt => empties(stmt, field));
  const stmts = closing(field, emptied === undefined);
  const edit: Edit = emptied ? { do: 'insert', where: 'before', node: emptied, stmts, path } : { do: 'body', where: 'first', fn, stmts, path };
  return withCare(facts, life, `Close the link in ${fn.name}`, edit);
}

function empties(stmt: Stmt, field: Field): boolean {
  return stmt.kind === 'Assign' && stmt.target.kind === 'Name' && stmt.target.name === field.name && stmt.value.kind === 'Literal' && stmt.value.value === null;
}

function beforeLetGo(facts: Facts, life: LinkLife, node: Assign | undefined): readonly Fix[] {
  const { field } = life.places;
  if (!node || !field || !isWithin(facts, node, field)) return [];
  return withCare(facts, life, 'Close the link before it is let go', { do: 'insert', where: 'before', node, stmts: closing(field, false), path: facts.code.pathOf(node) });
}

/** The same receiver once more: `it.disconnect()`, `link.value?.disconnect()`; one that does something else besides is left alone. */
function afterDisconnect(facts: Facts, life: LinkLife): readonly Fix[] {
  const { verdict } = life;
  for (const call of verdict.is === 'never-closed' ? verdict.disconnects : []) {
    const { callee } = call;
    const stmt = facts.code.parentOf(call);
    if (stmt?.kind !== 'ExprStmt' && !(stmt?.kind === 'Return' && stmt.implicit)) continue;
    if (callee.kind !== 'Member' || !isSteady(callee.object)) continue;
    const close = make.exprStmt(make.call(make.member(callee.object, 'close', callee.safe)));
    return withCare(facts, life, 'Close the link after disconnecting it', { do: 'insert', where: 'after', node: stmt, stmts: [close], path: facts.code.pathOf(stmt) });
  }
  return [];
}

function isSteady(expr: Expr): boolean {
  return expr.kind === 'Name' || expr.kind === 'This' || (expr.kind === 'Member' && isSteady(expr.object));
}

function onTheWayOut(facts: Facts, life: LinkLife): readonly Fix[] {
  const { exits } = life.places;
  const parent = facts.code.parentOf(life.open);
  const held = parent?.kind === 'Let' ? parent : bindingOf(facts, life.open);
  const name = held?.bindings[0]?.name;
  if (name === undefined || exits.length === 0) return [];
  const close = make.exprStmt(make.call(make.member(make.name(name), 'close')));
  return [review('Close the link on the way out', exits.map((node): Edit => ({ do: 'insert', where: 'before', node, stmts: [close] })))];
}

function bindingOf(facts: Facts, open: Call): Let | undefined {
  let node: AnyNode | undefined = open;
  while (node && node.kind !== 'Let' && node.kind !== 'Block') node = facts.code.parentOf(node);
  return node?.kind === 'Let' && node.bindings.length === 1 ? node : undefined;
}

/** A scan result comes again and again; the first one that is taken is enough. */
function once(facts: Facts, { open, places }: LinkLife): readonly Fix[] {
  const stmt = statementOf(facts, open);
  const fn = stmt && facts.code.enclosingFn(stmt);
  const isProcedure = fn?.name !== undefined && (fn.result === undefined || fn.result.name === 'void');
  if (!places.field || places.field.type?.nullable !== true || !stmt || !isProcedure) return [];
  const stop = make.ifThen(make.notEq(make.name(places.field.name), make.literal(null)), [make.returnStmt()]);
  return [review('Open a link only while none is open', [{ do: 'insert', where: 'before', node: stmt, stmts: [stop] }])];
}

// ---- A result that nobody keeps -----------------------------------------

function kept(facts: Facts, { open, places }: LinkLife): readonly Fix[] {
  const { keeper } = places;
  const stmt = statementOf(facts, open);
  if (!keeper || !stmt) return [];
  const isServer = open.callee.kind === 'Member' && open.callee.name === 'openGattServer';
  const type = isServer ? 'BluetoothGattServer' : 'BluetoothGatt';
  const field = keeper.field ?? newField(facts, keeper.cls.span, isServer ? ['gattServer', 'openServer'] : ['gatt', 'bluetoothGatt', 'openLink'], type);
  if (!field) return [];
  const local = bindingOf(facts, open)?.bindings[0]?.name;
  const holder = make.name(field.name);
  return [review(`Keep the link in ${field.name}`, [
    { do: 'insert', where: 'before', node: stmt, stmts: closing(field, false) },
    local === undefined
      ? { do: 'replace', node: open, by: make.assign(holder, open) }
      : { do: 'insert', where: 'after', node: stmt, stmts: [make.assign(holder, make.name(local))] },
    keeper.field ? undefined : { do: 'member', after: keeper.cls.span, declaration: field },
    keeper.field ? undefined : { do: 'import', from: 'android.bluetooth', name: type },
  ])];
}

function newField(facts: Facts, within: AnyNode['span'], names: readonly string[], type: string): Field | undefined {
  const text = facts.text.slice(within.start, within.end);
  const name = names.find(each => !new RegExp(`\\b${each}\\b`).test(text));
  if (name === undefined) return undefined;
  return {
    kind: 'Field', span: MADE, name, nameSpan: MADE, type: { span: MADE, name: type, args: [], nullable: true }, mutable: true, static: false,
    initial: make.literal(null), modifiers: new Set(['private']), annotations: [],
  };
}

/** The statement that a call stands in, where others can be put beside it. */
function statementOf(facts: Facts, call: Call): Stmt | undefined {
  let below: AnyNode = call;
  for (let node = facts.code.parentOf(call); node; below = node, node = facts.code.parentOf(node)) {
    if (node.kind === 'Fn' || node.kind === 'Class') return undefined;
    if (node.kind !== 'Block') continue;
    if (below.kind === 'Yield') continue;
    const fn = facts.code.parentOf(node);
    // The value of a function that has no block of its own.
    if (below.kind === 'Return' && below.implicit && fn?.kind === 'Fn' && fn.name !== undefined) return undefined;
    return below as Stmt;
  }
  return undefined;
}

// ---- Web ----------------------------------------------------------------

function web(facts: Facts, life: LinkLife): readonly Fix[] {
  const { verdict } = life;
  if (verdict.is !== 'never-closed' && verdict.is !== 'left-open') return [];
  if (verdict.exposed?.is === 'teardown') return disconnectedIn(facts, life, verdict.exposed.at);
  const stmt = statementOf(facts, life.open);
  const block = stmt && facts.code.parentOf(stmt);
  if (!stmt || block?.kind !== 'Block') return [];
  const rest = block.stmts.slice(block.stmts.indexOf(stmt) + 1);
  const [from, to] = [rest[0], rest.at(-1)];
  const disconnect = disconnectAfter(facts, life.open, stmt);
  if (!from || !to || !disconnect) return [];
  if (verdict.exposed?.is === 'visit') return [review('Disconnect at the end, whatever happens', [{ do: 'try', from, to, last: [disconnect] }])];
  const closings = verdict.is === 'left-open' ? rest.filter(each => each.kind === 'ExprStmt' && verdict.by.some(({ call }) => call === each.expr)) : [];
  if (closings.length > 0) return [review('Disconnect at the end, whatever happens', [{ do: 'try', from, to, without: closings, last: [disconnect] }])];
  const handler = { param: 'error', body: [disconnect, make.throwStmt(make.name('error'))] };
  return [review('Disconnect when a step after connecting fails', [{ do: 'try', from, to, handler }])];
}

/** The statement that disconnects, after the one that connects: through the name that has the server, or the device. */
function disconnectAfter(facts: Facts, open: Call, stmt: Stmt): Stmt | undefined {
  if (stmt.kind === 'Let' && stmt.bindings.length === 1 && stmt.bindings[0]!.path.length === 0 && isConnecting(stmt.value, open)) {
    return make.exprStmt(make.call(make.member(make.name(stmt.bindings[0]!.name), 'disconnect')));
  }
  if (stmt.kind === 'Assign' && isConnecting(stmt.value, open)) return make.exprStmt(make.call(make.member(stmt.target, 'disconnect')));
  const server = open.callee.kind === 'Member' ? bare(open.callee.object) : undefined;
  return server?.kind === 'Member' && facts.code.typeOf(server.object)?.name === 'BluetoothDevice' && stmt.kind === 'ExprStmt' && isConnecting(stmt.expr, open)
    ? make.exprStmt(make.call(make.member(make.member(server.object, server.name), 'disconnect', 'chain'))) : undefined;
}

function isConnecting(value: Expr | undefined, open: Call): boolean {
  return value !== undefined && (value.kind === 'Await' ? bare(value.value) : bare(value)) === open;
}

function bare(expr: Expr): Expr {
  return expr.kind === 'Unary' && expr.op === '!!' ? expr.value : expr;
}

/** A component's own teardown, through the field of the same class that has the server or the device. */
function disconnectedIn(facts: Facts, life: LinkLife, teardown: AnyNode | undefined): readonly Fix[] {
  const holder = life.holders.flatMap(h => (h.is === 'decl' && h.decl.is === 'field' && h.decl.owner !== undefined ? [h.decl] : [])).find(decl => typeOf(decl.node) !== undefined);
  if (!holder) return [];
  const self = make.member(make.thisRef(), holder.name);
  const server = typeOf(holder.node) === 'BluetoothDevice' ? make.member(self, 'gatt', 'chain') : self;
  const disconnect = make.exprStmt(make.call(make.member(server, 'disconnect', 'chain')));
  if (teardown?.kind !== 'Fn' || !holder.owner!.functions.includes(teardown)) return [];
  return [review(`Disconnect in ${teardown.name}`, [{ do: 'body', where: 'first', fn: teardown, stmts: [disconnect], path: facts.code.pathOf(teardown) }])];
}

function typeOf(field: Field): string | undefined {
  const members = field.type?.name === '|' ? field.type.args : field.type ? [field.type] : [];
  return members.map(({ name }) => name).find(name => /^Bluetooth(?:Device|RemoteGATTServer)$/.test(name));
}
