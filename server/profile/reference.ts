/** Writes the reference page of the device profile from the schema, as Markdown. */
import { schema, type Schema } from './schema.js';

/** @param example a whole profile, shown as it is */
export function writeReference(example: string): string {
  const sections = new Sections();
  sections.object(schema, []);
  return `${[OPENING, '## Example', fenced(example), ...sections.written].join('\n\n')}\n`;
}

const OPENING = `<!-- Written from server/profile/schema.ts; the test that finds it stale names the command that renews it. -->

# Device profile

A device profile is a YAML file whose name ends in \`.device.yaml\`. It says what the peripheral is, what the app must run on,
and which functions of the app the checks should know by name. Every key but \`uuid\` may be left out; what is left out is not
known, and nothing is concluded from it. The nearest profile upward from a source file is in force for it; of several in one
folder the first by name.

UUIDs and company identifiers are read as they are written, whatever YAML would make of them: \`2902\`, \`0x2902\` and \`12E5\`
need no quotes. While a profile has errors, the last one without any stays in force.`;

/** The tables of the page, each once, those of the outer keys first. */
class Sections {
  readonly written: string[] = [];
  private readonly done = new Set<string>();

  /** A section for a group of keys, then those of what it holds. */
  object(group: Schema, path: readonly string[]): void {
    if (this.done.has(group.title)) return;
    this.done.add(group.title);
    const entries = Object.entries(group.properties ?? {});
    if (entries.length > 0) {
      const rows = entries.map(([key, value]) => [`\`${key}\`${group.required?.includes(key) ? ' (needed)' : ''}`, holds(value), value.description]);
      this.write(path.length === 0 ? 'The whole file' : heading(group), path, group.description, table(['key', 'holds', 'meaning'], rows));
    } else if (typeof group.additionalProperties === 'object') {
      const value = group.additionalProperties;
      this.write(heading(group), path, group.description, table(['key', 'holds', 'meaning'], [['a name', holds(value), value.description]]));
    }
    for (const [key, value] of entries) this.below(value, [...path, key]);
    if (typeof group.additionalProperties === 'object') this.below(group.additionalProperties, path);
  }

  private below(value: Schema, path: readonly string[]): void {
    if (value.properties !== undefined || typeof value.additionalProperties === 'object') this.object(value, path);
    if (value.items !== undefined) this.below(value.items, path);
    for (const choice of value.anyOf ?? []) this.below(choice, path);
    if (value.enum !== undefined) this.words(value);
  }

  private words(choice: Schema): void {
    if (this.done.has(choice.title)) return;
    this.done.add(choice.title);
    const rows = (choice.enum ?? []).map((word, index) => [`\`${word}\``, choice.enumDescriptions?.[index] ?? '']);
    this.write(heading(choice), [], choice.description, table(['word', 'meaning'], rows));
  }

  private write(title: string, path: readonly string[], description: string, rows: string): void {
    const where = path.length === 0 ? '' : ` (\`${path.join(' › ')}\`)`;
    this.written.push(`## ${title}${where}`, description, rows);
  }
}

function heading({ title }: Schema): string {
  const bare = title.replace(/^(?:an?|the) /, '');
  return bare.charAt(0).toUpperCase() + bare.slice(1);
}

/** What may stand as a value, in words. */
function holds(value: Schema): string {
  if (value.enum !== undefined) return 'one word';
  if (value.anyOf !== undefined) return value.anyOf.map(holds).join(', or ');
  if (value.items !== undefined) return `list of ${value.items.enum === undefined ? plural(value.items) : 'words'}`;
  const types = typeof value.type === 'string' ? [value.type] : value.type ?? [];
  if (types.includes('number')) return 'hexadecimal digits';
  const names = types.map((type) => (type === 'integer' ? `whole number${bounds(value)}` : type === 'object' ? 'keys' : 'text'));
  return names.join(', or ');
}

function plural({ title }: Schema): string {
  return `${title.replace(/^(?:an?|the) /, '')}s`;
}

function bounds({ minimum, maximum, bounds: stated }: Schema): string {
  const range = maximum === undefined ? `, at least ${minimum}` : `, ${minimum} to ${maximum}`;
  return `${range}${stated?.source === undefined ? '' : ` (${stated.source})`}`;
}

function table(head: readonly string[], rows: readonly (readonly string[])[]): string {
  const line = (cells: readonly string[]): string => `| ${cells.map((cell) => cell.replaceAll('|', '\\|')).join(' | ')} |`;
  return [line(head), `|${'---|'.repeat(head.length)}`, ...rows.map(line)].join('\n');
}

function fenced(text: string): string {
  return `\`\`\`yaml\n${text.trimEnd()}\n\`\`\``;
}
