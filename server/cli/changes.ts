/** Changes on disk while a watch goes on, collected until somebody asks for them, so that none is lost during a check. */
export interface Watcher {
  /** Tells of changes directly in these folders until the signal is aborted. */
  watch(folders: Iterable<string>, onChange: (path: string) => void, signal: AbortSignal): void;
  /** Resolves after so many milliseconds. */
  sleep(milliseconds: number): Promise<void>;
  /** Aborted when the user ends the program. */
  readonly ended: AbortSignal;
}

/** An editor writes several files for one change, and a checkout many. Milliseconds. */
const SETTLING = 80;

export class Changes {
  private paths = new Set<string>();
  private tell = (): void => {};
  private listening = new AbortController();
  private folders = '';

  constructor(private readonly watcher: Watcher) {
    watcher.ended.addEventListener('abort', () => {
      this.listening.abort();
      this.tell();
    });
  }

  /** Listens in these folders from now on, instead of those before. */
  listenIn(folders: readonly string[]): void {
    const wanted = folders.join('\n');
    if (wanted === this.folders || this.watcher.ended.aborted) return;
    this.folders = wanted;
    const before = this.listening;
    this.listening = new AbortController();
    this.watcher.watch(folders, (path) => {
      this.paths.add(path);
      this.tell();
    }, this.listening.signal);
    before.abort();
  }

  /** What changed since the last call; waits until something has. Empty only when the program ends. */
  async next(): Promise<ReadonlySet<string>> {
    if (this.paths.size === 0 && !this.watcher.ended.aborted) await new Promise<void>((resolve) => { this.tell = resolve; });
    if (this.watcher.ended.aborted) return new Set();
    await this.watcher.sleep(SETTLING);
    const { paths } = this;
    this.paths = new Set();
    return paths;
  }
}
