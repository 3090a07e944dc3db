export interface Expected {
  readonly file: string;
  readonly line: number;
  readonly rule: string;
  readonly severity: string;
}
export function expectedFindings(markdown: string): Expected[];
export function findingsIn(log: unknown, folder: string): Expected[];
export function differences(expected: readonly Expected[], found: readonly Expected[]): string[];
