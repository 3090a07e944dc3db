/**
 * Findings as a SARIF 2.1.0 log (OASIS Standard, "Static Analysis Results Interchange Format (SARIF) Version 2.1.0").
 * Section numbers below are that standard's. Only the form is made here; nothing is judged.
 */
import type { FileEdits } from '../engine/edits.js';
import type { Finding, Fix, Severity } from '../engine/rule.js';
import type { Coverage } from '../engine/coverage.js';
import type { Span } from '../ir/ir.js';
import type { FileCheck } from '../project/check.js';
import { isBelow, relativePath } from '../project/paths.js';
import { FINGERPRINT, fingerprints } from './fingerprints.js';
import { Lines } from './lines.js';
import { plainText } from './plain-text.js';
import { levelsText } from './releases.js';
import type { CheckReport, RuleText } from './report.js';

export interface SarifOptions {
  readonly version: string;
  readonly rules: readonly RuleText[];
  /** The text of a fix; `undefined` where it cannot be written, or only with the user's answers. */
  editsOf(path: string, fix: Fix): readonly FileEdits[] | undefined;
  readonly coverage?: Coverage;
}

const SCHEMA = 'https://docs.oasis-open.org/sarif/sarif/v2.1.0/os/schemas/sarif-schema-2.1.0.json';

/** What relative URIs are relative to (3.14.14): the folder that the check was run in. */
const BASE_ID = 'CHECKROOT';

const LEVELS: Readonly<Record<Severity, 'error' | 'warning' | 'note'>> = { error: 'error', warning: 'warning', hint: 'note' };

/** The whole log as JSON, two blanks an indent, with a newline at its end. */
export function sarifReport(report: CheckReport, options: SarifOptions): string {
  return JSON.stringify(sarifLog(report, options), undefined, 2) + '\n';
}

function sarifLog(report: CheckReport, options: SarifOptions): object {
  const writer = new Writer(report, options);
  const problems = report.checks.flatMap((check) => check.problems);
  return {
    $schema: SCHEMA,
    version: '2.1.0',
    runs: [{
      tool: { driver: { name: 'Linkwright', version: options.version, rules: options.rules.map(descriptor) } },
      originalUriBaseIds: { [BASE_ID]: { uri: fileUri(report.base) + '/' } },
      columnKind: 'utf16CodeUnits',
      invocations: [{
        executionSuccessful: problems.length === 0,
        toolExecutionNotifications: [
          ...problems.map(({ rule, path, message }) => ({
            level: 'error', message: { text: `${rule}: ${message}` }, locations: [writer.location(path)],
          })),
          ...report.notes.map(({ path, message }) => ({ level: 'note', message: { text: message }, locations: [writer.location(path)] })),
          ...report.assumed.map((text) => ({ level: 'note', message: { text } })),
        ],
      }],
      results: report.checks.flatMap((check) => writer.results(check)),
      ...(options.coverage && { properties: { coverage: writer.coverage(options.coverage) } }),
    }],
  };
}

/** 3.49: what is known of a rule. */
function descriptor(rule: RuleText): object {
  const page = rule.page ?? `# ${rule.title}\n\n${rule.harm}\n`;
  return {
    id: rule.id,
    shortDescription: { text: `${rule.title}.` },
    fullDescription: { text: rule.harm },
    help: { text: plainText(page), markdown: page },
    defaultConfiguration: { level: LEVELS[rule.severity] },
  };
}

class Writer {
  private readonly lines = new Map<string, Lines>();
  private readonly ruleIndex: ReadonlyMap<string, number>;

  constructor(private readonly report: CheckReport, private readonly options: SarifOptions) {
    this.ruleIndex = new Map(options.rules.map((rule, index) => [rule.id, index]));
  }

  /** Open findings and accepted ones in one order, since fingerprints count through both. */
  results(check: FileCheck): object[] {
    const reasons = new Map(check.accepted.map(({ finding, reason }) => [finding, reason]));
    const all = [...check.findings, ...reasons.keys()].sort((a, b) => a.at.start - b.at.start);
    const prints = fingerprints(all, this.linesOf(check.path));
    return all.map((finding, i) => this.result(finding, prints[i]!, reasons.get(finding)));
  }

  private result(finding: Finding, fingerprint: string, acceptedFor: string | undefined): object {
    const index = this.ruleIndex.get(finding.rule);
    const fixes = finding.fixes.flatMap((fix) => this.fix(finding.path, fix));
    const within = finding.within === '' ? {} : { logicalLocations: [{ fullyQualifiedName: finding.within, kind: 'function' }] };
    return {
      ruleId: finding.rule,
      ...(index !== undefined && { ruleIndex: index }),
      level: LEVELS[finding.severity],
      message: { text: finding.message },
      locations: [{ ...this.location(finding.path, finding.at), ...within }],
      ...(finding.related.length > 0 && {
        relatedLocations: finding.related.map(({ path, at, message }, id) => ({ id, ...this.location(path, at), message: { text: message } })),
      }),
      partialFingerprints: { [FINGERPRINT]: fingerprint },
      ...(fixes.length > 0 && { fixes }),
      // 3.35: accepted in the source, with the reason that stands there.
      ...(acceptedFor !== undefined && { suppressions: [{ kind: 'inSource', status: 'accepted', justification: acceptedFor }] }),
      ...(finding.apiLevels && { properties: { apiLevels: finding.apiLevels, releases: levelsText(finding.apiLevels) } }),
    };
  }

  location(path: string, at?: Span): { physicalLocation: object } {
    return { physicalLocation: { artifactLocation: this.artifact(path), ...(at && { region: this.region(path, at) }) } };
  }

  private region(path: string, at: Span): object {
    const { start, end } = this.linesOf(path).range(at);
    return { startLine: start.line, startColumn: start.column, endLine: end.line, endColumn: end.column };
  }

  private artifact(path: string): object {
    if (!isBelow(path, this.report.base)) return { uri: fileUri(path) };
    return { uri: escaped(relativePath(this.report.base, path)), uriBaseId: BASE_ID };
  }

  private fix(path: string, fix: Fix): object[] {
    const files = this.options.editsOf(path, fix);
    if (files === undefined) return [];
    return [{
      description: { text: fix.title },
      artifactChanges: files.map((file) => ({
        artifactLocation: this.artifact(file.path),
        replacements: file.edits.map(({ at, text }) => ({
          deletedRegion: this.region(file.path, at),
          ...(text !== '' && { insertedContent: { text } }),
        })),
      })),
    }];
  }

  coverage({ unresolved, ...figures }: Coverage): object {
    return { ...figures, unresolved: unresolved.map(({ name, count, at }) => ({ name, count, ...this.location(at.path, at.span) })) };
  }

  private linesOf(path: string): Lines {
    let lines = this.lines.get(path);
    if (lines === undefined) this.lines.set(path, lines = new Lines(this.report.textOf(path) ?? ''));
    return lines;
  }
}

function fileUri(path: string): string {
  return `file://${path.startsWith('/') ? '' : '/'}${escaped(path)}`;
}

/** RFC 3986: each part of the path by itself, so that slashes stay. A drive's colon stays too. */
function escaped(path: string): string {
  return path.split('/').map((part) => encodeURIComponent(part).replace(/^([A-Za-z])%3A$/, '$1:')).join('/');
}
