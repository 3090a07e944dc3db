/** A line that says how far a long run has come, on a terminal only, and gone when the run ends. */
export interface ProgressTerminal {
  /** Writes to the error output. */
  err(text: string): void;
  readonly isTerminal: boolean;
  /** Milliseconds, rising. */
  now(): number;
}

/** Shorter runs show nothing: a line that flashes tells nobody anything. Milliseconds. */
const LONG = 700;
const BETWEEN = 100;
const CLEAR_LINE = '\r\x1b[2K';

export class Progress {
  private readonly begun: number;
  private shownAt = -Infinity;

  constructor(private readonly terminal: ProgressTerminal) {
    this.begun = terminal.now();
  }

  update(done: number, all: number): void {
    if (!this.terminal.isTerminal) return;
    const now = this.terminal.now();
    if (now - this.begun < LONG || now - this.shownAt < BETWEEN) return;
    this.shownAt = now;
    this.terminal.err(`${CLEAR_LINE}Checked ${done} of ${all} files`);
  }

  end(): void {
    if (this.shownAt > -Infinity) this.terminal.err(CLEAR_LINE);
  }
}
