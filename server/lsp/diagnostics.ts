/**
 * Findings as the editor's diagnostics. Which findings are published, and when, is decided before: this is their form only.
 */
import { DiagnosticSeverity } from 'vscode-languageserver/node';
import type { Diagnostic, PublishDiagnosticsParams } from 'vscode-languageserver/node';
import type { Finding, Severity } from '../engine/rule.js';
import type { Publication } from '../project/publish.js';
import { Lines, uriOf } from './places.js';
import type { Workbench } from './workbench.js';

/** What the editor shows as the origin of every diagnostic of ours. */
export const SOURCE = 'linkwright';

/** A `hint` becomes Information: the protocol's Hint is three dots under the first letter and no row in the problem list. */
const SEVERITIES: Record<Severity, DiagnosticSeverity> = {
  error: DiagnosticSeverity.Error,
  warning: DiagnosticSeverity.Warning,
  hint: DiagnosticSeverity.Information,
};

/** @param uri by which the editor knows the file, if it holds it */
export function diagnosticsParams(publication: Publication, uri: string | undefined, workbench: Pick<Workbench, 'textOf'>): PublishDiagnosticsParams {
  const { path, version } = publication;
  return { uri: uri ?? uriOf(path), ...(version !== undefined && { version }), diagnostics: diagnosticsOf(publication, workbench) };
}

export function diagnosticsOf(publication: Publication, workbench: Pick<Workbench, 'textOf'>): Diagnostic[] {
  const lines = new Lines(publication.text);
  return publication.findings.map((finding) => ({
    range: lines.range(finding.at),
    severity: SEVERITIES[finding.severity],
    source: SOURCE,
    code: finding.rule,
    message: finding.message,
    ...(finding.related.length > 0 && { relatedInformation: relatedOf(finding, publication, lines, workbench) }),
  }));
}

/** Related places in a file that has vanished meanwhile are left out: there is no text to count lines in. */
function relatedOf(finding: Finding, publication: Publication, lines: Lines, workbench: Pick<Workbench, 'textOf'>) {
  return finding.related.flatMap(({ path, at, message }) => {
    const text = path === publication.path ? publication.text : workbench.textOf(path);
    if (text === undefined) return [];
    const range = (text === publication.text ? lines : new Lines(text)).range(at);
    return [{ location: { uri: uriOf(path), range }, message }];
  });
}
