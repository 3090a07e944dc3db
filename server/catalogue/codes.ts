/** Status codes by value, and the sources that the catalogue and the rules name. */
import { sourceRows, statusRows, type SourceEntry } from './data.js';
import type { StatusCode } from './types.js';

/** Every meaning of a value; one number means different things in different callbacks, so ask with `where` when it is known. */
export function statusCodes(value: number, where?: StatusCode['where']): readonly StatusCode[] {
  return statusRows.filter((row) => row.value === value && (where === undefined || row.where === where));
}

export function allStatusCodes(): readonly StatusCode[] {
  return statusRows;
}

/** Where a requirement is written down. @throws Error for a key that the catalogue does not hold */
export function source(key: string): SourceEntry {
  const entry = sourceRows[key];
  if (entry === undefined) throw new Error(`no such source: ${key}`);
  return entry;
}

export function sourceKeys(): readonly string[] {
  return Object.keys(sourceRows);
}
