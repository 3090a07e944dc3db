/**
 * What makes a finding the same one after the code around it moved: its rule, the function it is in, and the text of its
 * line without its spacing. Where several agree in all three, their order tells them apart. Never a line number.
 */
import { digest } from '../engine/hash.js';
import type { Finding } from '../engine/rule.js';
import type { Lines } from './lines.js';

/** Version of the recipe; a log that mixes two recipes would match findings that are not the same. */
export const FINGERPRINT = 'ruleFunctionText/v1';

/** For the findings of one file, in their order. */
export function fingerprints(findings: readonly Finding[], lines: Lines): readonly string[] {
  const seen = new Map<string, number>();
  return findings.map(({ rule, within, at }) => {
    const same = [rule, within, lines.lineText(at.start).replace(/\s+/g, '')].join('\n');
    const ordinal = seen.get(same) ?? 0;
    seen.set(same, ordinal + 1);
    return digest(`${same}\n${ordinal}`);
  });
}
