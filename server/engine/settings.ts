/**
 * What a user may set: how loud each rule is, and from which severity on a run fails. Reads a plain object, wherever it
 * came from (the editor's configuration, a command line); what it cannot use it names and leaves at its default.
 */
import type { Rule, Severity } from './rule.js';

export type Level = Severity | 'off';

export interface Settings {
  /** Only rules that were set; the others keep their own severity. */
  readonly levels: ReadonlyMap<string, Level>;
  readonly failOn: Severity;
}

export const defaultSettings: Settings = { levels: new Map(), failOn: 'warning' };

/** From the least to the most serious. */
export const severities: readonly Severity[] = ['hint', 'warning', 'error'];

export function atLeast(severity: Severity, bound: Severity): boolean {
  return severities.indexOf(severity) >= severities.indexOf(bound);
}

export function isSeverity(value: unknown): value is Severity {
  return severities.includes(value as Severity);
}

/**
 * `{ rules: { <rule id>: 'off' | 'hint' | 'warning' | 'error' }, failOn: 'hint' | 'warning' | 'error' }`, every key
 * optional. `problems` are sentences for the user, in the order of the keys.
 */
export function parseSettings(value: unknown, ruleIds: ReadonlySet<string>): { settings: Settings; problems: readonly string[] } {
  if (value === undefined || value === null) return { settings: defaultSettings, problems: [] };
  if (!isRecord(value)) return { settings: defaultSettings, problems: ['The settings are not an object.'] };
  const problems: string[] = [];
  let { levels, failOn } = defaultSettings;
  for (const [key, entry] of Object.entries(value)) {
    if (key === 'rules') {
      levels = parseLevels(entry, ruleIds, problems);
    } else if (key === 'failOn') {
      if (isSeverity(entry)) failOn = entry;
      else problems.push(`failOn is ${shown(entry)}; it may be error, warning or hint.`);
    } else {
      problems.push(`There is no setting named ${key}.`);
    }
  }
  return { settings: { levels, failOn }, problems };
}

function parseLevels(value: unknown, ruleIds: ReadonlySet<string>, problems: string[]): ReadonlyMap<string, Level> {
  const levels = new Map<string, Level>();
  if (!isRecord(value)) {
    problems.push('rules is not an object of rule ids and levels.');
    return levels;
  }
  for (const [id, level] of Object.entries(value)) {
    if (!ruleIds.has(id)) problems.push(`There is no rule named ${id}.`);
    else if (level === 'off' || isSeverity(level)) levels.set(id, level);
    else problems.push(`rules.${id} is ${shown(level)}; it may be off, hint, warning or error.`);
  }
  return levels;
}

/**
 * How loud one finding is. A rule may grade a single case below itself (or above); a setting moves the rule, and a case
 * graded lower stays lower, since to be told of every possible overlap as an error is nobody's wish.
 */
export function levelOf(rule: Pick<Rule, 'id' | 'severity'>, own: Severity | undefined, settings: Settings): Level {
  const set = settings.levels.get(rule.id);
  if (set === undefined) return own ?? rule.severity;
  if (set === 'off' || own === undefined) return set;
  return atLeast(own, set) ? set : own;
}

function isRecord(value: unknown): value is Record<string, unknown> {
  return typeof value === 'object' && value !== null && !Array.isArray(value);
}

function shown(value: unknown): string {
  return JSON.stringify(value) ?? String(value);
}
