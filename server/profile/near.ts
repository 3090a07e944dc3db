/** "Did you mean": the known word that a mistyped one is nearest to. */

/**
 * The candidate that differs least from `written`, case and punctuation left aside, or undefined where none is near: more
 * than two letters in five would have to change, and neither word stands whole in the other.
 */
export function nearest(written: string, candidates: readonly string[]): string | undefined {
  const bare = letters(written);
  if (bare === '') return undefined;
  let best: string | undefined;
  let least = Infinity;
  for (const candidate of candidates) {
    const far = farness(bare, letters(candidate));
    if (far < least) {
      best = candidate;
      least = far;
    }
  }
  return best;
}

/** Few changes come before a word cut short, and that before a word with more around it. */
function farness(written: string, candidate: string): number {
  const changes = distance(written, candidate);
  if (changes <= Math.max(written.length, candidate.length) * 0.4) return changes;
  if (written.length >= 4 && candidate.includes(written)) return 100 + changes;
  if (candidate.length >= 4 && written.includes(candidate)) return 200 + changes;
  return Infinity;
}

/** `Did you mean "x"?`, or else the whole choice. */
export function suggestion(written: string, candidates: readonly string[]): string {
  const near = nearest(written, candidates);
  return near === undefined ? `Choose from: ${candidates.join(', ')}.` : `Did you mean "${near}"?`;
}

function letters(word: string): string {
  return word.slice(0, 60).toLowerCase().replace(/[^a-z0-9]/g, '');
}

/** Edits (a letter in, out or replaced) from one word to the other: Levenshtein's distance, row by row. */
function distance(a: string, b: string): number {
  let row = Array.from({ length: b.length + 1 }, (_, column) => column);
  for (let line = 1; line <= a.length; line++) {
    const next = [line];
    for (let column = 1; column <= b.length; column++) {
      const replaced = row[column - 1]! + (a[line - 1] === b[column - 1] ? 0 : 1);
      next.push(Math.min(replaced, row[column]! + 1, next[column - 1]! + 1));
    }
    row = next;
  }
  return row[b.length]!;
}
