/** Faults of numbers: more subscriptions than the oldest target grants. */
import type { AnyNode, Call, Expr } from '../../../server/ir/ir.js';
import { findAll } from '../../../server/ir/walk.js';
import { limitAt, osLimit } from '../../../server/catalogue/index.js';
import type { Ground } from '../ground.js';
import type { Place } from '../mutant.js';
import type { Operator } from './operator.js';

const rule = 'notify-over-limit';

export const subscriptionsAdded: Operator = {
  name: 'subscriptions-added', plants: 'a list of attributes to subscribe to grows beyond the limit', language: 'both', rule,
  *plant(ground) {
    for (const items of subscribedLists(ground)) {
      const last = items.at(-1)!;
      const added = uuids(ground.slice(last), grants(ground));
      yield { edits: [{ path: ground.pathOf(last), at: { start: last.span.end, end: last.span.end }, text: added.map((one) => `, ${one}`).join('') }], places: subscribing(ground) };
    }
  },
};

export const subscriptionsRepeated: Operator = {
  name: 'subscriptions-repeated', plants: 'as many more subscriptions as the limit grants stand one below the other', language: 'both', rule,
  *plant(ground) {
    for (const call of ground.all('Call')) {
      const stmt = ground.statementOf(call);
      if (!ground.isOwn(call) || stmt?.kind !== 'ExprStmt' || !ground.ownsLines(stmt)) continue;
      const argument = call.args.map(({ value }) => value).filter((value) => ground.resolver.constants.uuid(value) !== undefined).at(-1);
      if (argument === undefined || !saysSo(call) || !ground.reaches(call, 'subscribes')) continue;
      yield { edits: [ground.after(stmt, copies(ground, stmt, argument).join(`\n${ground.indentOf(stmt)}`))], places: [...afterwards(ground, stmt), ...subscribing(ground)] };
    }
  },
};

export const limitLowered: Operator = {
  name: 'limit-lowered', plants: 'the oldest target becomes Android 4.4, which grants four', language: 'both', rule,
  *plant(ground) {
    const lists = subscribedLists(ground);
    if (lists.every((items) => items.length <= limitAt(osLimit('notification-registrations'), OLDEST))) return;
    const edits = [...ground.app.files].flatMap(([path, text]) => {
      const stated = /(?:minSdk = |minimum: )(\d+)/.exec(text);
      if (stated === null || !/\.(?:yaml|kts)$/.test(path)) return [];
      const start = stated.index + stated[0].length - stated[1]!.length;
      return [{ path, at: { start, end: start + stated[1]!.length }, text: String(OLDEST) }];
    });
    if (edits.length > 0) yield { edits, places: subscribing(ground) };
  },
};

const OLDEST = 19;

function grants(ground: Ground): number {
  return limitAt(osLimit('notification-registrations'), ground.minimum);
}

/** Constant lists of UUIDs over which a loop, or a function that is given a lambda, subscribes. */
function subscribedLists(ground: Ground): readonly (readonly Expr[])[] {
  const sources = [
    ...ground.all('Loop').flatMap((loop) => (loop.over !== undefined && ground.reaches(loop.body, 'subscribes') ? [loop.over.source] : [])),
    ...ground.all('Call').flatMap((call) => {
      const lambda = ground.lambdaArgument(call);
      return lambda !== undefined && call.callee.kind === 'Member' && ground.reaches(lambda, 'subscribes') ? [call.callee.object] : [];
    }),
  ];
  return sources.flatMap((list) => {
    const items = ground.resolver.constants.items(list) ?? collected(ground, list);
    return items !== undefined && items.length > 1 && items.every((item) => ground.resolver.constants.uuid(item) !== undefined) ? [items] : [];
  });
}

/** A list that a loop over a constant list has filled: `for (const id of IDS) found.push(await …)`. */
function collected(ground: Ground, list: Expr): readonly Expr[] | undefined {
  const name = list.kind === 'Call' && list.callee.kind === 'Member' && list.callee.name === 'entries' ? list.callee.object : list;
  if (name.kind !== 'Name') return undefined;
  const filling = ground.all('Loop').find(({ body }) => findAll(body, 'Call').some(({ callee }) =>
    callee.kind === 'Member' && callee.name === 'push' && callee.object.kind === 'Name' && callee.object.name === name.name));
  return filling?.over && ground.resolver.constants.items(filling.over.source);
}

/** Where the rule may stand: at a registration, or at the call of a helper that makes it, in the whole app. */
function subscribing(ground: Ground): readonly Place[] {
  return ground.all('Call').filter((call) => ground.memberOf(call)?.does?.includes('subscribes') || (ground.isOwn(call) && ground.reaches(call, 'subscribes')))
    .map((call) => ground.nameOf(call));
}

function afterwards(ground: Ground, stmt: AnyNode): readonly Place[] {
  const path = ground.pathOf(stmt);
  const fn = ground.functionOf(stmt);
  return fn === undefined ? [] : [{ path, at: { start: stmt.span.start, end: fn.span.end } }];
}

/** Its name says that it subscribes: what it reaches through a queue of operations of all sorts says nothing. */
function saysSo({ callee }: Call): boolean {
  return (callee.kind === 'Name' || callee.kind === 'Member') && /subscribe|listen|watch|notif/i.test(callee.name);
}

function copies(ground: Ground, stmt: AnyNode, argument: Expr): string[] {
  const text = ground.slice(stmt);
  const [start, end] = [argument.span.start - stmt.span.start, argument.span.end - stmt.span.start];
  const sample = ground.language === 'kotlin' ? 'java.util.UUID.fromString("0")' : "'0'";
  return uuids(sample, grants(ground)).map((uuid) => text.slice(0, start) + uuid + text.slice(end));
}

/** So many further UUIDs, written as the sample is. */
function uuids(sample: string, count: number): string[] {
  return Array.from({ length: count }, (_, i) => {
    const uuid = `5eed${String(1000 + i)}-3f1c-4a57-9d2e-6b8f0a4c7e21`;
    return sample.includes('UUID') ? `java.util.UUID.fromString("${uuid}")` : `'${uuid}'`;
  });
}

