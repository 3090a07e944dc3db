/**
 * Findings that the author of the code has accepted, in a comment that names the rule and the reason:
 *
 *     // linkwright accepts link-not-closed: the process ends with this screen
 *     val gatt = device.connectGatt(this, false, callback)
 *
 * The comment stands on lines of its own above the code, or at the end of the line; several rules are separated by
 * commas. An acceptance must not outlive its reason: one without a reason or with an unknown rule has no effect and is
 * reported, and so is one that accepts nothing. This module decides which findings stay; it runs no rule.
 */
import type { AnyNode, File, Span } from '../ir/ir.js';
import { walk } from '../ir/walk.js';
import type { Finding, Fix, Severity } from './rule.js';
import { inOrder, touches } from './run.js';
import { levelOf, type Level, type Settings } from './settings.js';
import { within } from './within.js';

/** The two rules that speak about acceptances themselves; they have no page of facts to check and cannot be accepted. */
export const acceptanceRules = [
  {
    id: 'acceptance-unexplained',
    title: 'An acceptance names no known rule or gives no reason',
    harm: 'Nobody can tell later whether the finding may still be accepted, so it is reported as before.',
    severity: 'hint',
  },
  {
    id: 'acceptance-unused',
    title: 'An acceptance accepts nothing',
    harm: 'It would hide the next finding of that rule at this place, which nobody has looked at.',
    severity: 'hint',
  },
] as const satisfies readonly { id: string; title: string; harm: string; severity: Severity }[];

type AcceptanceRule = (typeof acceptanceRules)[number]['id'];

export interface Accepted {
  readonly finding: Finding;
  readonly reason: string;
}

export interface AcceptanceContext {
  readonly ruleIds: ReadonlySet<string>;
  /** Rules whose findings in this file are all there: neither switched off nor ended by an error. */
  readonly complete: ReadonlySet<string>;
  readonly settings: Settings;
}

/** Splits `findings`, all of this file, and adds what is to be said about the acceptances. */
export function applyAcceptances(
  file: File,
  text: string,
  findings: readonly Finding[],
  context: AcceptanceContext,
): { open: readonly Finding[]; accepted: readonly Accepted[] } {
  const acceptances = acceptancesIn(file, text);
  if (acceptances.length === 0) return { open: findings, accepted: [] };
  const open: Finding[] = [];
  const accepted: Accepted[] = [];
  const used = new Map<Acceptance, Set<string>>();
  for (const finding of findings) {
    const by = acceptances.find((one) => one.reason !== '' && one.rules.includes(finding.rule) && covers(one, finding.at));
    if (by === undefined) {
      open.push(finding);
      continue;
    }
    accepted.push({ finding, reason: by.reason });
    used.set(by, (used.get(by) ?? new Set()).add(finding.rule));
  }
  for (const acceptance of acceptances) {
    open.push(...complaints(file, text, acceptance, used.get(acceptance) ?? new Set(), context));
  }
  return { open: inOrder(open), accepted };
}

// ---- Reading ------------------------------------------------------------

interface Acceptance {
  readonly comment: Span;
  /** The comment has its lines to itself. */
  readonly alone: boolean;
  readonly rules: readonly string[];
  /** The names as they stand in the text, from the first to the last. */
  readonly rulesSpan: Span;
  /** Empty: none was given. */
  readonly reason: string;
  readonly line: Span;
  /** The declaration or statement that begins on that line, and the blocks in it, which have lines of their own. */
  readonly reach: { readonly span: Span; readonly blocks: readonly Span[] } | undefined;
}

const SAYS = /^(?:\/\/+|\/\*+)[\s*]*linkwright\s+accepts\b\s*([^:]*?)\s*(?::\s*([\s\S]*?))?\s*(?:\*+\/)?$/;

function acceptancesIn(file: File, text: string): Acceptance[] {
  const found: Acceptance[] = [];
  for (const comment of file.comments) {
    const said = SAYS.exec(text.slice(comment.start, comment.end));
    if (said === null || file.unreadable.some((range) => touches(range, comment))) continue;
    const [whole, names = '', reason = ''] = said;
    const namesAt = comment.start + whole.indexOf('accepts') + 'accepts'.length;
    const start = names === '' ? namesAt : text.indexOf(names, namesAt);
    const alone = isAlone(text, comment);
    const line = alone ? nextLineOfCode(file, text, lineAt(text, comment.end).end) : lineAt(text, comment.start);
    found.push({
      comment,
      alone,
      rules: names.split(/[\s,]+/).filter((name) => name !== ''),
      rulesSpan: { start, end: start + names.length },
      reason: reason.replace(/\s*\n\s*\*?\s*/g, ' ').trim(),
      line,
      reach: alone ? reachFrom(file, text, line) : undefined,
    });
  }
  return found;
}

/** The line without its end. */
function lineAt(text: string, offset: number): Span {
  const start = text.lastIndexOf('\n', offset - 1) + 1;
  const end = text.indexOf('\n', offset);
  return { start, end: end < 0 ? text.length : end };
}

/** Also inside the braces that a comment needs among JSX elements. */
function isAlone(text: string, comment: Span): boolean {
  const before = text.slice(lineAt(text, comment.start).start, comment.start).trim();
  const after = text.slice(comment.end, lineAt(text, comment.end).end).trim();
  return before + after === '' || (before === '{' && after === '}');
}

/** The first line below that holds anything but blanks and comments; an empty range at the end of the text if there is none. */
function nextLineOfCode(file: File, text: string, from: number): Span {
  let offset = from;
  for (;;) {
    while (offset < text.length && /\s/.test(text[offset]!)) offset++;
    const comment = file.comments.find((span) => span.start <= offset && offset < span.end);
    if (comment === undefined) return offset < text.length ? lineAt(text, offset) : { start: text.length, end: text.length };
    offset = comment.end;
  }
}

/**
 * What an acceptance above a line reaches beyond that line: a call chain broken over lines, a declaration's head below
 * its annotations. Not the blocks inside: an acceptance for a whole class or loop would accept what nobody looked at.
 */
function reachFrom(file: File, text: string, line: Span): Acceptance['reach'] {
  const first = line.start + Math.max(0, text.slice(line.start, line.end).search(/\S/));
  let outermost: AnyNode | undefined;
  walk(file, (node) => {
    if (outermost !== undefined || node.span.end <= first || node.span.start > first) return 'skip';
    if (node.span.start === first && node.kind !== 'File' && node.kind !== 'Block') outermost = node;
    return undefined;
  });
  if (outermost === undefined) return undefined;
  const blocks: Span[] = [];
  walk(outermost, (node) => {
    if (node.kind !== 'Block' && !(node.kind === 'Class' && node !== outermost)) return undefined;
    blocks.push(node.span);
    return 'skip';
  });
  return { span: headOf(outermost), blocks };
}

/** Members of a class are not blocks of the model, so a class reaches to its name only. */
function headOf(node: AnyNode): Span {
  if (node.kind !== 'Class') return node.span;
  return { start: node.span.start, end: node.nameSpan?.end ?? node.span.start };
}

// ---- Judging ------------------------------------------------------------

function covers(acceptance: Acceptance, at: Span): boolean {
  const { line, reach } = acceptance;
  if (line.start <= at.start && at.start <= line.end) return true;
  if (reach === undefined || at.start < reach.span.start || at.start >= reach.span.end) return false;
  return !reach.blocks.some((block) => block.start <= at.start && at.start < block.end);
}

function complaints(file: File, text: string, acceptance: Acceptance, used: ReadonlySet<string>, context: AcceptanceContext): Finding[] {
  const { rules, reason } = acceptance;
  const complain = (rule: AcceptanceRule, message: string, gone: readonly string[]): Finding[] => {
    const level = severityOf(rule, context.settings);
    if (level === 'off') return [];
    return [{
      rule, severity: level, path: file.path, at: acceptance.comment, message, related: [],
      fixes: [removal(text, acceptance, gone)], within: within(file, acceptance.comment),
    }];
  };

  if (rules.length === 0) return complain('acceptance-unexplained', 'This acceptance names no rule, so it has no effect', []);
  if (reason === '') return complain('acceptance-unexplained', 'This acceptance gives no reason after a colon, so it has no effect', rules);
  const found: Finding[] = [];
  const unknown = rules.filter((id) => !context.ruleIds.has(id));
  if (unknown.length > 0) {
    found.push(...complain('acceptance-unexplained', `There is no rule named ${unknown.join(', ')}`, unknown));
  }
  const unused = rules.filter((id) => context.ruleIds.has(id) && context.complete.has(id) && !used.has(id));
  if (unused.length > 0) {
    found.push(...complain('acceptance-unused', `Nothing here is reported by ${unused.join(', ')} any more`, unused));
  }
  return found;
}

function severityOf(id: AcceptanceRule, settings: Settings): Level {
  return levelOf(acceptanceRules.find((rule) => rule.id === id)!, undefined, settings);
}

/** Takes the named rules out of the comment, or the comment away when none is left. */
function removal(text: string, acceptance: Acceptance, gone: readonly string[]): Fix {
  const left = acceptance.rules.filter((id) => !gone.includes(id));
  if (left.length > 0) {
    return {
      title: `Take ${gone.join(', ')} out of the acceptance`,
      trust: 'review',
      edits: [{ do: 'text', at: acceptance.rulesSpan, text: left.join(', ') }],
    };
  }
  return { title: 'Remove the acceptance', trust: 'review', edits: [{ do: 'text', at: commentWithItsSpace(text, acceptance), text: '' }] };
}

/** The comment's lines when it has them to itself, else the comment and the blanks before it. */
function commentWithItsSpace(text: string, { comment, alone }: Acceptance): Span {
  if (!alone) {
    let start = comment.start;
    while (start > 0 && /[ \t]/.test(text[start - 1]!)) start--;
    const endsLine = /^[ \t]*(?:\r?\n|$)/.test(text.slice(comment.end));
    return { start: endsLine ? start : comment.start, end: comment.end };
  }
  const end = lineAt(text, comment.end).end;
  return { start: lineAt(text, comment.start).start, end: Math.min(end + 1, text.length) };
}
