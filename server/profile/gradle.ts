/**
 * The API levels that a Gradle build file states: `minSdk`, `targetSdk`, `compileSdk` in their Groovy and Kotlin spellings,
 * and the application's id. It reads the statements it knows and evaluates nothing: a value is a number, a string, or the
 * name of a constant whose value stands in the same file or a build file further up; any other value (a version catalogue,
 * a plugin, a condition) is reported as unresolved, never guessed.
 */
import { gradleTokens, type GradleToken } from './gradle-tokens.js';
import type { Span } from '../ir/ir.js';
import type { Placed } from './types.js';

export type LevelName = 'minSdk' | 'targetSdk' | 'compileSdk';

export interface GradleLevels {
  readonly path: string;
  /** The smallest that any product flavour states; absent where none is stated or any of them is unresolved. */
  readonly minSdk?: Placed<number>;
  /** What stands outside the product flavours, or what all flavours agree on. */
  readonly targetSdk?: Placed<number>;
  readonly compileSdk?: Placed<number>;
  readonly applicationId?: Placed<string>;
  /** Levels that are set to a value which cannot be read here. */
  readonly unresolved: readonly { readonly name: LevelName; readonly at: Span }[];
  /** Whole numbers that the file names, for the build files below it. */
  readonly constants: ReadonlyMap<string, number>;
}

const NAMES: Readonly<Record<string, LevelName | 'applicationId'>> = {
  minSdk: 'minSdk', minSdkVersion: 'minSdk',
  targetSdk: 'targetSdk', targetSdkVersion: 'targetSdk',
  compileSdk: 'compileSdk', compileSdkVersion: 'compileSdk',
  applicationId: 'applicationId',
};

/** Blocks in which `targetSdk` and its like set something else than the application's own level. */
const OTHER_MATTERS = new Set(['lint', 'lintOptions', 'testOptions']);
const FLAVOURS = 'productFlavors';
/** Blocks and objects that hold a build's own properties. */
const PROPERTY_HOLDERS = new Set(['ext', 'extra']);
const DECLARING_WORDS = new Set(['val', 'var', 'def', 'int', 'Integer', 'Int', 'final']);

/** @param above readings of the build files further up, whose constants count here too, nearest first */
export function readGradle(text: string, path: string, above: readonly GradleLevels[] = []): GradleLevels {
  const scan = new Scan(gradleTokens(text, path.endsWith('.kts') ? 'kotlin' : 'groovy'));
  scan.run();
  const named = (name: string): number | undefined => scan.constant(name) ?? above.find((levels) => levels.constants.has(name))?.constants.get(name);
  const stated = scan.statements.map((statement) => ({ ...statement, result: evaluate(statement.value, named) }));
  const of = (name: string): typeof stated => stated.filter((statement) => statement.name === name);

  return {
    path,
    ...levelOf('minSdk', smallest(of('minSdk'))),
    ...levelOf('targetSdk', agreed(of('targetSdk'))),
    ...levelOf('compileSdk', agreed(of('compileSdk'))),
    ...applicationId(of('applicationId')),
    unresolved: stated.flatMap(({ name, at, result }) => (name !== 'applicationId' && typeof result !== 'number' ? [{ name, at }] : [])),
    constants: scan.numbers(),
  };
}

// ---- Choosing among several statements ----------------------------------

interface Evaluated extends Statement {
  readonly result: number | string | undefined;
}

function smallest(statements: readonly Evaluated[]): Placed<number> | undefined {
  const numbers = numbersOf(statements);
  if (numbers.length < statements.length) return undefined;
  return numbers.reduce<Placed<number> | undefined>((least, next) => (least === undefined || next.value < least.value ? next : least), undefined);
}

function agreed(statements: readonly Evaluated[]): Placed<number> | undefined {
  const general = statements.filter(({ within }) => !within.includes(FLAVOURS));
  const counted = general.length > 0 ? general : statements;
  const numbers = numbersOf(counted);
  const [first] = numbers;
  return numbers.length === counted.length && numbers.every(({ value }) => value === first?.value) ? first : undefined;
}

function numbersOf(statements: readonly Evaluated[]): Placed<number>[] {
  return statements.flatMap(({ result, at }) => (typeof result === 'number' ? [{ value: result, at }] : []));
}

function levelOf(name: LevelName, value: Placed<number> | undefined): { readonly [K in LevelName]?: Placed<number> } {
  return value === undefined ? {} : { [name]: value };
}

function applicationId(statements: readonly Evaluated[]): { readonly applicationId?: Placed<string> } {
  const found = statements.find(({ within, result }) => typeof result === 'string' && !within.includes(FLAVOURS));
  return typeof found?.result === 'string' ? { applicationId: { value: found.result, at: found.at } } : {};
}

// ---- Finding the statements ---------------------------------------------

interface Statement {
  readonly name: LevelName | 'applicationId';
  /** Place of the value. */
  readonly at: Span;
  readonly value: readonly GradleToken[];
  /** Names of the enclosing blocks and of the objects before a dot. */
  readonly within: readonly string[];
}

/** One walk over the tokens, which keeps account of the blocks around each. */
class Scan {
  readonly statements: Statement[] = [];
  private readonly definitions = new Map<string, (readonly GradleToken[])[]>();
  /** Open brackets; those of a block carry the words before it. */
  private readonly open: { readonly mark: string; readonly names: readonly string[] }[] = [];
  private statementStart = 0;

  constructor(private readonly tokens: readonly GradleToken[]) {}

  run(): void {
    for (const [index, token] of this.tokens.entries()) {
      if (token.kind === 'mark') this.mark(token.text, index);
      else if (token.kind === 'newline') this.endStatement(index);
      else if (token.kind === 'word') this.word(token.text, index);
    }
  }

  /** The one number that the file gives to a name; undefined where it gives none, or several. */
  constant(name: string, depth = 0): number | undefined {
    const values = this.definitions.get(name)?.map((value) => evaluate(value, (other) => (depth < 8 ? this.constant(other, depth + 1) : undefined)));
    const first = values?.[0];
    return typeof first === 'number' && values?.every((value) => value === first) ? first : undefined;
  }

  numbers(): ReadonlyMap<string, number> {
    return new Map([...this.definitions.keys()].flatMap((name) => {
      const value = this.constant(name);
      return value === undefined ? [] : [[name, value] as const];
    }));
  }

  private mark(mark: string, index: number): void {
    if (mark === '{' || mark === '(' || mark === '[') {
      this.open.push({ mark, names: mark === '{' ? this.headWords(index) : [] });
      if (mark === '{') this.statementStart = index + 1;
    } else if (mark === '}' || mark === ')' || mark === ']') {
      this.open.pop();
      if (mark === '}') this.statementStart = index + 1;
    } else if (mark === ';' || mark === '->') this.endStatement(index);
  }

  /** Inside parentheses a newline ends nothing. */
  private endStatement(index: number): void {
    const innermost = this.open.at(-1)?.mark;
    if (innermost === undefined || innermost === '{') this.statementStart = index + 1;
  }

  private word(word: string, index: number): void {
    const path = this.pathBefore(index);
    if (path === undefined) {
      this.declaration(word, index);
      return;
    }
    const within = [...this.open.flatMap(({ names }) => names), ...path];
    if (PROPERTY_HOLDERS.has(within.at(-1) ?? '') || (within.at(-1) === 'apply' && PROPERTY_HOLDERS.has(within.at(-2) ?? ''))) this.property(word, index);
    else if (PROPERTY_HOLDERS.has(word)) this.holder(index);
    const name = Object.hasOwn(NAMES, word) ? NAMES[word] : undefined;
    if (name === undefined || within.some((block) => OTHER_MATTERS.has(block) || PROPERTY_HOLDERS.has(block))) return;
    const value = this.valueAfter(index);
    const first = value?.[0];
    const last = value?.at(-1);
    if (value !== undefined && first !== undefined && last !== undefined) this.statements.push({ name, value, within, at: { start: first.start, end: last.end } });
  }

  /** The words and dots between the statement's beginning and the token, or undefined where other things stand there. */
  private pathBefore(index: number): readonly string[] | undefined {
    const path: string[] = [];
    let at = index - 1;
    while (isMark(this.tokens[at], '.') && this.tokens[at - 1]?.kind === 'word') {
      path.unshift(this.tokens[at - 1]?.text ?? '');
      at -= 2;
    }
    const before = this.tokens[at];
    const begins = at < this.statementStart || before?.text === 'else' || isMark(before, ')');
    return begins ? path : undefined;
  }

  /** The names by which a block is known: `android`, `defaultConfig.apply`, `create("demo")`. */
  private headWords(index: number): readonly string[] {
    const names: string[] = [];
    for (let at = this.statementStart; at < index; at++) {
      const token = this.tokens[at];
      if (token?.kind === 'word') names.push(token.text);
      else if (!isMark(token, '.')) break;
    }
    return names;
  }

  /** What is assigned to, or passed to, the name at `index`: `= 24`, `(24)`, ` 24`, `.set(24)`, `{ version = release(24) }`. */
  private valueAfter(index: number): readonly GradleToken[] | undefined {
    const next = this.tokens[index + 1];
    if (next === undefined) return undefined;
    if (isMark(next, '=')) return this.toStatementEnd(index + 2);
    if (isMark(next, '(')) return this.inBrackets(index + 1);
    if (isMark(next, '.') && this.tokens[index + 2]?.text === 'set' && isMark(this.tokens[index + 3], '(')) return this.inBrackets(index + 3);
    if (isMark(next, '{')) {
      const block = this.inBrackets(index + 1) ?? [];
      const release = block.findIndex((token, at) => token.text === 'release' && isMark(block[at + 1], '('));
      return release < 0 ? block : this.inBrackets(index + 2 + release + 1);
    }
    return next.kind === 'mark' || next.kind === 'newline' ? undefined : this.toStatementEnd(index + 1);
  }

  private toStatementEnd(from: number): readonly GradleToken[] {
    let start = from;
    while (this.tokens[start]?.kind === 'newline') start++;
    let depth = 0;
    for (let at = start; at < this.tokens.length; at++) {
      const token = this.tokens[at];
      if (opens(token)) depth++;
      else if (closes(token) && depth-- === 0) return this.tokens.slice(start, at);
      else if (depth === 0 && (token?.kind === 'newline' || isMark(token, ';'))) return this.tokens.slice(start, at);
    }
    return this.tokens.slice(start);
  }

  /** What stands between the bracket at `index` and its partner; undefined where that is missing. */
  private inBrackets(index: number): readonly GradleToken[] | undefined {
    let depth = 0;
    for (let at = index; at < this.tokens.length; at++) {
      if (opens(this.tokens[at])) depth++;
      else if (closes(this.tokens[at]) && --depth === 0) return this.tokens.slice(index + 1, at);
    }
    return undefined;
  }

  // ---- Constants

  private define(name: string, value: readonly GradleToken[] | undefined): void {
    if (value === undefined) return;
    if (isMark(value[0], '[')) this.pairs(value.slice(1));
    else this.definitions.set(name, [...(this.definitions.get(name) ?? []), value]);
  }

  /** `val name = 24`, `def name = 24`, `val name by extra(24)`, `val name by extra { 24 }`. */
  private declaration(name: string, index: number): void {
    if (!DECLARING_WORDS.has(this.tokens[index - 1]?.text ?? '')) return;
    let at = index + 1;
    if (isMark(this.tokens[at], ':')) while (this.tokens[at] !== undefined && !isMark(this.tokens[at], '=') && this.tokens[at]?.kind !== 'newline') at++;
    if (isMark(this.tokens[at], '=')) this.define(name, this.toStatementEnd(at + 1));
    else if (this.tokens[at]?.text === 'by' && this.tokens[at + 1]?.text === 'extra') this.define(name, this.inBrackets(at + 2));
  }

  /** Inside `ext { }`, or after `ext.`: `name = 24`, `set("name", 24)`. */
  private property(word: string, index: number): void {
    if (isMark(this.tokens[index + 1], '=')) this.define(word, this.toStatementEnd(index + 2));
    else if (word === 'set' && isMark(this.tokens[index + 1], '(')) {
      const [name, comma, ...value] = this.inBrackets(index + 1) ?? [];
      if (name?.kind === 'string' && isMark(comma, ',')) this.define(name.text, value);
    }
  }

  /** `ext["name"] = 24`, `ext = [name: 24]`. */
  private holder(index: number): void {
    const name = this.tokens[index + 2];
    if (isMark(this.tokens[index + 1], '[') && name?.kind === 'string' && isMark(this.tokens[index + 3], ']') && isMark(this.tokens[index + 4], '=')) {
      this.define(name.text, this.toStatementEnd(index + 5));
    } else if (isMark(this.tokens[index + 1], '=')) this.define('', this.toStatementEnd(index + 2));
  }

  /** The entries of a Groovy map, each a constant under its own key. */
  private pairs(tokens: readonly GradleToken[]): void {
    for (const [index, token] of tokens.entries()) {
      if (token.kind === 'newline' || token.kind === 'mark' || !isMark(tokens[index + 1], ':')) continue;
      const end = tokens.findIndex((other, at) => at > index + 1 && (isMark(other, ',') || isMark(other, ']') || other.kind === 'newline'));
      this.define(token.text, tokens.slice(index + 2, end < 0 ? tokens.length : end));
    }
  }
}

function isMark(token: GradleToken | undefined, text: string): boolean {
  return token?.kind === 'mark' && token.text === text;
}

function opens(token: GradleToken | undefined): boolean {
  return token?.kind === 'mark' && (token.text === '(' || token.text === '[' || token.text === '{');
}

function closes(token: GradleToken | undefined): boolean {
  return token?.kind === 'mark' && (token.text === ')' || token.text === ']' || token.text === '}');
}

// ---- Values -------------------------------------------------------------

/** A literal, or a constant's value; undefined for everything that would have to be run. */
function evaluate(value: readonly GradleToken[], named: (name: string) => number | undefined): number | string | undefined {
  let tokens = value.filter(({ kind }) => kind !== 'newline');
  while (isMark(tokens[0], '(') && isMark(tokens.at(-1), ')')) tokens = tokens.slice(1, -1);
  if (tokens.at(-2)?.text === 'as') tokens = tokens.slice(0, -2);
  const [first, second] = tokens;
  if (first === undefined) return undefined;
  if (second === undefined && first.kind === 'number') return wholeNumber(first.text);
  if (second === undefined && first.kind === 'string') return first.hole ? undefined : wholeNumber(first.text.replace(/^android-/, '')) ?? first.text;
  const name = nameOf(tokens);
  return name === undefined ? undefined : named(name);
}

function wholeNumber(text: string): number | undefined {
  return /^[0-9][0-9_]*$/.test(text) ? Number(text.replaceAll('_', '')) : undefined;
}

/** Calls that only turn one spelling of a number into another. */
const CONVERSION = /!!|\.(?:toInt|toInteger|intValue|toString)\(\)/g;
/** `a.b.c`, `a["c"]`, `a.property("c")` and its like: a way to the name c. */
const READ = /^(?:[\w$]+\.)*(?:([\w$]+)|[\w$]+\["([\w$.]+)"\]|(?:get|property|getProperty|findProperty|getByName)\("([\w$.]+)"\))$/;

/** The constant that an expression reads, if it does nothing else. The names of a version catalogue are none of the file's. */
function nameOf(tokens: readonly GradleToken[]): string | undefined {
  const spaced = tokens.map(({ kind, text, hole }) => (kind === 'string' ? (hole ? '"$ "' : `"${text}"`) : text)).join(' ');
  const written = spaced.replace(/ ?([.[\]()]|!!) ?/g, '$1').replace(CONVERSION, '');
  const found = written.startsWith('libs.') ? null : READ.exec(written);
  return found === null ? undefined : found[1] ?? found[2] ?? found[3];
}
