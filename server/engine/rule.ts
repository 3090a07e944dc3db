/**
 * The shape of a rule: data about itself and one pure function. This module is types and one identity function; running
 * rules is `run.ts`, printing their fixes is `edits.ts`.
 */
import type { Call, Expr, Fn, Span, Stmt, Declaration } from '../ir/ir.js';
import type { Facts } from '../facts/facts.js';

export type Severity = 'error' | 'warning' | 'hint';

export interface Rule {
  /** Kebab case; equals the module's and the page's file name. Never renamed, only retired. */
  readonly id: string;
  /** What is wrong, as a sentence without its full stop; at most 70 characters. */
  readonly title: string;
  /** One sentence: what goes wrong at run time, for the hover. */
  readonly harm: string;
  readonly severity: Severity;
  /** Keys of `rules/catalogue/sources.yaml`: where the requirement is written down. */
  readonly sources: readonly string[];
  check(facts: Facts, report: Report): void;
}

export type Report = (finding: Draft) => void;

export interface Place {
  /** Absent: the file under check. */
  readonly path?: string;
  readonly at: Span;
}

export interface Draft {
  readonly at: Span;
  /** The title with this case's names filled in. One or two sentences. */
  readonly message: string;
  /** The finding's own severity, where the case differs from the rule's. */
  readonly severity?: Severity;
  /** Android API levels on which this fails, inclusive; `to` absent: and later. */
  readonly apiLevels?: { readonly from: number; readonly to?: number };
  readonly related?: readonly (Place & { readonly message: string })[];
  readonly fixes?: readonly Fix[];
  /** A place in the device profile or another file that the editor offers to open. */
  readonly lead?: { readonly title: string; readonly path: string; readonly at: Span };
}

/** A fix is a change to the program model; each language's writer turns it into text. */
export interface Fix {
  /** Verb phrase, for the menu. */
  readonly title: string;
  /** `safe` keeps behaviour otherwise unchanged and may run on save; `review` may not. */
  readonly trust: 'safe' | 'review';
  readonly edits: readonly Edit[];
  /** Names that the user is asked for before the fix is applied; each stands in the made nodes as a `Name` in angle brackets. */
  readonly asks?: readonly { readonly placeholder: string; readonly question: string; readonly initial: string }[];
}

/** `path` on an edit: another file than the one under check. */
export type Edit = { readonly path?: string } & (
  | { readonly do: 'replace'; readonly node: Expr | Stmt; readonly by: Expr | Stmt }
  | { readonly do: 'insert'; readonly where: 'before' | 'after'; readonly node: Stmt; readonly stmts: readonly Stmt[] }
  /** At the beginning or end of a function's body. */
  | { readonly do: 'body'; readonly where: 'first' | 'last'; readonly fn: Fn; readonly stmts: readonly Stmt[] }
  /** Keep the node's text and write something around it: `await ` before, `?.let { }` after. */
  | { readonly do: 'wrap'; readonly node: Expr | Stmt; readonly before: string; readonly after: string }
  /**
   * The statements of a block from one to another go into a `try`, one step deeper: `handler` runs when one of them fails,
   * `last` in any case. `without`: statements among them that are taken away.
   */
  | {
    readonly do: 'try'; readonly from: Stmt; readonly to: Stmt;
    readonly handler?: { readonly param: string; readonly body: readonly Stmt[] }; readonly last?: readonly Stmt[];
    readonly without?: readonly Stmt[];
  }
  | { readonly do: 'remove'; readonly node: Stmt | Declaration }
  | { readonly do: 'argument'; readonly call: Call; readonly index: number; readonly name?: string; readonly value: Expr }
  /** A new member after an existing one, or at the end of the class whose span is given. */
  | { readonly do: 'member'; readonly after: Fn | Span; readonly declaration: Declaration }
  | { readonly do: 'import'; readonly from: string; readonly name: string }
  /** Text of a file that is not source: YAML, manifest. */
  | { readonly do: 'text'; readonly at: Span; readonly text: string }
);

/** A reported finding, complete. */
export interface Finding {
  readonly rule: string;
  readonly severity: Severity;
  readonly path: string;
  readonly at: Span;
  readonly message: string;
  readonly apiLevels?: { readonly from: number; readonly to?: number };
  readonly related: readonly { readonly path: string; readonly at: Span; readonly message: string }[];
  readonly fixes: readonly Fix[];
  readonly lead?: Draft['lead'];
  /** Name of the enclosing function, outermost class first (`HiveLink.onCharacteristicRead`), for fingerprints. */
  readonly within: string;
}

/** Keeps the literal types of a rule without spelling them. */
export function rule<const R extends Rule>(it: R): R {
  return it;
}
