/** Looks up how a known function treats the lambdas it is given. Which function a call means is decided in `resolve/`. */
import { runnerRows, type RunnerRow } from './data.js';
import type { Language, Runner } from './types.js';

interface Index {
  readonly byName: Map<string, Runner[]>;
  /** Rows whose name has a `*`: `set*Listener`. */
  readonly patterns: { readonly pattern: RegExp; readonly row: RunnerRow }[];
  /** Answers given before, by language and name. */
  readonly asked: Map<string, readonly Runner[]>;
}

let built: Index | undefined;

function index(): Index {
  if (built !== undefined) return built;
  built = { byName: new Map(), patterns: [], asked: new Map() };
  for (const row of runnerRows) {
    for (const name of row.names) {
      if (name.includes('*')) built.patterns.push({ pattern: new RegExp(`^${name.replace('*', '\\w+')}$`), row });
      else built.byName.set(name, [...(built.byName.get(name) ?? []), ...spread(row, name)]);
    }
  }
  return built;
}

/** One runner for each receiver that a row names. */
function spread({ names: _, on, ...rest }: RunnerRow, name: string): Runner[] {
  return on === undefined ? [{ ...rest, name }] : on.map((type) => ({ ...rest, name, on: type }));
}

/**
 * Every way in which a function of that name runs a lambda in that language: rows for certain receivers come before rows
 * for any. A name that is listed is not matched against patterns.
 */
export function runnersOf(language: Language, name: string): readonly Runner[] {
  const { byName, patterns, asked } = index();
  const key = `${language} ${name}`;
  const known = asked.get(key);
  if (known !== undefined) return known;
  const rows = byName.get(name) ?? patterns.filter(({ pattern }) => pattern.test(name)).slice(0, 1).flatMap(({ row }) => spread(row, name));
  const fitting = rows.filter((row) => row.language === language || row.language === 'both');
  const answer = [...fitting.filter((row) => row.on !== undefined), ...fitting.filter((row) => row.on === undefined)];
  asked.set(key, answer);
  return answer;
}

/** All of them as the data have them, names with a `*` included; for tables and tests. */
export function allRunners(): readonly Runner[] {
  return runnerRows.flatMap((row) => row.names.flatMap((name) => spread(row, name)));
}
