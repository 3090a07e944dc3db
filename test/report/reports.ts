/** A small report to print: two files with findings of every severity. */
import { nothingCovered, type Coverage } from '../../server/engine/coverage.js';
import type { Finding } from '../../server/engine/rule.js';
import type { FileCheck } from '../../server/project/check.js';
import type { CheckReport } from '../../server/report/report.js';

export const LINK = `class HiveLink {
    fun open() {
        gatt = device.connectGatt(context, false, callback)
    }

    fun read() {
        gatt.readCharacteristic(weight)
        gatt.readCharacteristic(weight)
    }
}
`;
export const LIVE = 'await characteristic.startNotifications();\n';

export const LINK_PATH = '/work/app/Hive Link+.kt';
export const LIVE_PATH = '/work/web/live.ts';

/** Where `piece` stands for the `nth` time. */
export function at(text: string, piece: string, nth = 1) {
  let start = -1;
  for (let i = 0; i < nth; i++) start = text.indexOf(piece, start + 1);
  if (start < 0) throw new Error(`no ${piece}`);
  return { start, end: start + piece.length };
}

export function finding(more: Partial<Finding> & Pick<Finding, 'rule' | 'at'>): Finding {
  return { severity: 'warning', path: LINK_PATH, message: `A ${more.rule}`, related: [], fixes: [], within: '', ...more };
}

export function check(path: string, text: string, findings: readonly Finding[], more: Partial<FileCheck> = {}): FileCheck {
  return {
    path, text, findings, accepted: [], problems: [], times: new Map(), coverage: nothingCovered, consulted: new Set(),
    face: { digest: '', heads: new Map() }, ...more,
  };
}

/** Of the findings, one is accepted with a reason, one concerns a range of releases and points elsewhere. */
export function report(linkText = LINK, more: Partial<CheckReport> = {}): CheckReport {
  const findings = [
    finding({
      rule: 'link-not-closed', at: at(linkText, 'connectGatt'), message: 'This link is never closed', within: 'HiveLink.open',
      apiLevels: { from: 21, to: 30 },
      related: [{ path: LINK_PATH, at: at(linkText, 'fun read'), message: 'Read here' }, { path: LIVE_PATH, at: { start: 6, end: 20 }, message: 'And there' }],
    }),
    finding({ rule: 'start-result-unchecked', severity: 'hint', at: at(linkText, 'readCharacteristic'), within: 'HiveLink.read' }),
    finding({ rule: 'start-result-unchecked', severity: 'hint', at: at(linkText, 'readCharacteristic', 2), within: 'HiveLink.read' }),
  ];
  const accepted = [{ finding: finding({ rule: 'operation-outside-queue', at: at(linkText, 'readCharacteristic', 2), within: 'HiveLink.read' }), reason: 'one peer only' }];
  const live = [finding({ rule: 'status-unchecked', severity: 'error', path: LIVE_PATH, at: at(LIVE, 'startNotifications') })];
  const texts = new Map([[LINK_PATH, linkText], [LIVE_PATH, LIVE]]);
  return {
    checks: [check(LINK_PATH, linkText, findings, { accepted }), check(LIVE_PATH, LIVE, live)],
    base: '/work', textOf: (path) => texts.get(path), notes: [], assumed: [], ...more,
  };
}

export const someCoverage: Coverage = {
  links: { known: 2, unknown: 1 }, operations: { known: 7, unknown: 0 }, callbacks: { known: 0, unknown: 0 }, capped: 1,
  unresolved: [
    { name: 'manager.write', count: 3, at: { path: LINK_PATH, span: { start: 0, end: 5 } } },
    { name: 'peer.read', count: 1, at: { path: LIVE_PATH, span: { start: 6, end: 20 } } },
  ],
};
