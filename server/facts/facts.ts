/**
 * What a rule may ask about one file in its project. Answers are computed lazily in `effects/`; this module holds types
 * only, and `index.ts` hands them out. Every answer that is not known is left out and counted in the coverage.
 */
import type { AnyNode, Block, Call, Expr, File, Fn } from '../ir/ir.js';
import type { Decl, Ty } from '../resolve/api.js';
import type { Collision } from '../effects/overlaps.js';
import type { LinkLife } from '../effects/links.js';
import type { Registrations } from '../effects/limits.js';
import type { Start } from '../effects/starts.js';
import type { StatusUse } from '../effects/status.js';
import type { Unanswered } from '../effects/unanswered.js';
import type { Link, WayOn } from '../effects/ways-on.js';
import type { Targets } from '../profile/targets.js';
import type { Profile } from '../profile/types.js';

export type { Link, WayOn };

export interface Facts {
  readonly file: File;
  readonly text: string;
  /** A source of tests. */
  readonly isTest: boolean;
  readonly targets: Targets;
  readonly profile?: Profile;

  /** Calls that say whether they were accepted, and what becomes of the answer. */
  readonly starts: readonly Start[];
  /** Platform callbacks that have a status. */
  readonly statuses: readonly StatusUse[];
  /** Awaited operations whose failure reaches nobody. */
  readonly unanswered: readonly Unanswered[];
  /** Places at which a second operation can be in flight on one link. */
  readonly collisions: readonly Collision[];
  /** Links that this file opens, or only ever disconnects. */
  readonly links: readonly LinkLife[];
  /** Notification registrations, where a count is known. */
  readonly registrations: readonly Registrations[];

  /** What a fix needs to know about the places it changes. */
  readonly code: Code;
}

export interface Code {
  parentOf(node: AnyNode): AnyNode | undefined;
  enclosingFn(node: AnyNode): Fn | undefined;
  /** The function or top level that evaluates a node; lambdas that run at once belong to their caller. */
  home(node: AnyNode): Fn | Block | undefined;
  pathOf(node: AnyNode): string;
  typeOf(expr: Expr): Ty | undefined;
  declOf(expr: Expr): Decl | undefined;
  resultOf(fn: Fn): Ty | undefined;
  /** Functions of the project that a call may run. */
  targetsOf(call: Call): readonly Fn[];
  /** A comment that stands on the lines just above a node or at the end of its line, as text. */
  commentAt(node: AnyNode): string | undefined;
  /** Such a comment says why a failure there is tolerated. */
  isTolerated(node: AnyNode): boolean;
  /** Nothing below a node does more than print. */
  onlyTells(node: AnyNode): boolean;
  textOf(node: AnyNode): string;
  /** How the code around a place would answer a failure there, best first. `link`: the expression of the link, if at hand. */
  waysOn(node: AnyNode, link?: Link): readonly WayOn[];
  /** What a failure may do with its link: the one brings the callback that closes it, where there is such a thing. */
  readonly linkEnd: 'disconnect' | 'close';
  /** What the place of a lambda or function value wants it to yield; absent: anything, or not known. */
  wantedResult(value: Expr): Ty | undefined;
}
