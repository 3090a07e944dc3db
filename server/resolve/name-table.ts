/**
 * Which files hold a name, whatever it stands for there. The table is made once over all files; a program that differs
 * from the one before in a few files takes its table over and notes those files beside it.
 */
import type { File } from '../ir/ir.js';
import { fileIndex, type FileIndex } from './file-index.js';

/** With more files beside it than this, and than this part of all, the table is made anew. */
const FEW = 8;
const PART = 1 / 8;

export class NameTable {
  private order: Map<FileIndex, number> | undefined;

  private constructor(
    private readonly files: ReadonlyMap<string, File>,
    /** Files that the table was made over. */
    private readonly covered: ReadonlySet<FileIndex>,
    private readonly table: ReadonlyMap<string, readonly FileIndex[]>,
    private readonly gone: ReadonlySet<FileIndex>,
    private readonly added: readonly FileIndex[],
  ) {}

  static over(files: ReadonlyMap<string, File>): NameTable {
    const covered = new Set([...files.values()].map(fileIndex));
    const table = new Map<string, FileIndex[]>();
    for (const index of covered) {
      for (const name of index.names) {
        const known = table.get(name);
        if (known === undefined) table.set(name, [index]);
        else known.push(index);
      }
    }
    return new NameTable(files, covered, table, new Set(), []);
  }

  /** The table over other files, most of which are the same. */
  over(files: ReadonlyMap<string, File>): NameTable {
    const now = new Set([...files.values()].map(fileIndex));
    const added = [...now].filter((index) => !this.covered.has(index));
    if (added.length > Math.max(FEW, files.size * PART)) return NameTable.over(files);
    const gone = new Set([...this.covered].filter((index) => !now.has(index)));
    return new NameTable(files, this.covered, this.table, gone, added);
  }

  /** The files that hold the name, in the order of the program. */
  holders(name: string): readonly FileIndex[] {
    const found = this.table.get(name) ?? [];
    const beside = this.added.filter((index) => index.names.has(name));
    if (beside.length === 0) return this.gone.size === 0 ? found : found.filter((index) => !this.gone.has(index));
    return [...found.filter((index) => !this.gone.has(index)), ...beside].sort((a, b) => this.place(a) - this.place(b));
  }

  private place(index: FileIndex): number {
    this.order ??= new Map([...this.files.values()].map((file, at) => [fileIndex(file), at]));
    return this.order.get(index)!;
  }
}
