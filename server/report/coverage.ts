/** The coverage figures as text: what was recognised, and by name what was not. Counting is the facts' affair. */
import { sumCoverage, type Coverage, type Share } from '../engine/coverage.js';
import { counted, Places } from './text.js';
import type { CheckReport } from './report.js';

/** Names beyond these say little that the first ones did not. */
const MOST_NAMES = 30;

export function coverageOf(report: Pick<CheckReport, 'checks'>): Coverage {
  return sumCoverage(report.checks.map((check) => check.coverage));
}

/** A paragraph, with a newline at its end. */
export function coverageText(report: CheckReport): string {
  const { links, operations, callbacks, unresolved, capped } = coverageOf(report);
  const places = new Places(report);
  const lines = ['Recognised', share('links', links), share('operations', operations), share('callbacks', callbacks)];
  if (capped > 0) lines.push(`  ${counted(capped, 'function')} too large to follow`);
  if (unresolved.length > 0) {
    const calls = unresolved.reduce((sum, one) => sum + one.count, 0);
    lines.push(`Not recognised: ${counted(calls, 'call')} whose receiver may be a link but goes through something that is not modelled`);
    for (const { name, count, at } of unresolved.slice(0, MOST_NAMES)) {
      lines.push(`  ${name}${count > 1 ? ` (${count} times)` : ''}, ${count > 1 ? 'first at ' : ''}${places.of(at.path, at.span.start)}`);
    }
    if (unresolved.length > MOST_NAMES) lines.push(`  and ${unresolved.length - MOST_NAMES} more names`);
  }
  return lines.join('\n') + '\n';
}

function share(what: string, { known, unknown }: Share): string {
  const all = known + unknown;
  return `  ${what.padEnd(10)} ${known} of ${all}${all === 0 ? '' : ` (${Math.floor((known / all) * 100)} %)`}`;
}
