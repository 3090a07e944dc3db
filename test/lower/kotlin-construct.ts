/** One construct of Kotlin, as the tables of the lowering tests list them. */
export interface Construct {
  readonly name: string;
  /** One text, or its lines. */
  readonly source: string | readonly string[];
  /** The printed model of what stands in the file or function, with single spaces, in one or several pieces. */
  readonly model: string | readonly string[];
}

export function sourceOf({ source }: Construct): string {
  return typeof source === 'string' ? source : source.join('\n');
}

export function modelOf({ model }: Construct): string {
  return typeof model === 'string' ? model : model.join(' ');
}

/** Statements need a function around them. */
export function insideFunction(statements: string): string {
  return `fun test() {\n${statements}\n}`;
}
