/**
 * The list of findings that a workspace's EXPECTED.md holds, and how a check's findings differ from it. The list is the
 * first table with the columns file, line, rule and severity.
 */

/** @typedef {{ file: string, line: number, rule: string, severity: string }} Expected */

/** @returns {Expected[]} */
export function expectedFindings(markdown) {
  const rows = markdown.split(/\r?\n/).map((line) => (line.startsWith('|') ? line.split('|').slice(1, -1).map((cell) => cell.trim()) : undefined));
  const head = rows.findIndex((cells) => ['file', 'line', 'rule', 'severity'].every((name, i) => cells?.[i]?.toLowerCase() === name));
  if (head < 0) throw new Error('The list of expected findings has no table with the columns file, line, rule and severity.');
  const end = rows.findIndex((cells, i) => i > head && cells === undefined);
  return rows.slice(head + 2, end < 0 ? undefined : end).map(([file = '', line = '', rule = '', severity = '']) => {
    if (!/^\d+$/.test(line)) throw new Error(`${file}: "${line}" is no line number.`);
    return { file: file.replaceAll('`', ''), line: Number(line), rule: rule.replaceAll('`', ''), severity };
  });
}

const SEVERITIES = { error: 'error', warning: 'warning', note: 'hint' };

/** The open findings of a SARIF log, files as seen from `folder`. @returns {Expected[]} */
export function findingsIn(log, folder) {
  return log.runs[0].results.filter(({ suppressions }) => suppressions === undefined).map(({ ruleId, level, locations }) => {
    const { artifactLocation, region } = locations[0].physicalLocation;
    return { file: decodeURIComponent(artifactLocation.uri).replace(`${folder}/`, ''), line: region.startLine, rule: ruleId, severity: SEVERITIES[level] };
  });
}

/** One sentence for each finding that is missing, is too many, or has another severity; in the order of places. */
export function differences(expected, found) {
  const left = [...found];
  const says = [];
  for (const one of expected) {
    const at = left.findIndex((other) => other.file === one.file && other.line === one.line && other.rule === one.rule);
    if (at < 0) {
      says.push({ ...one, text: `missing: ${one.rule} (${one.severity})` });
      continue;
    }
    const [other] = left.splice(at, 1);
    if (other.severity !== one.severity) says.push({ ...one, text: `${one.rule} is of severity ${other.severity}, expected is ${one.severity}` });
  }
  for (const one of left) says.push({ ...one, text: `not expected: ${one.rule} (${one.severity})` });
  return says
    .sort((a, b) => (a.file === b.file ? a.line - b.line : a.file < b.file ? -1 : 1))
    .map(({ file, line, text }) => `${file}:${line}: ${text}`);
}
