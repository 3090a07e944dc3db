/** One construct of the language, as the tables of the lowering tests list them. */
export interface Construct {
  readonly name: string;
  /** Tells how to read it; a `.ts` file unless said otherwise. */
  readonly path?: string;
  readonly source: string;
  /** The printed model of what stands in the file, on one line. */
  readonly model: string;
}
