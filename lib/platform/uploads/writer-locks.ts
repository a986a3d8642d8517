/**
 * One writer an upload. A newcomer ends the older writer (its connection is dead, or a second tab took over) and waits
 * until its bytes are settled, so that the offset it then reads is the true one.
 */
export class WriterLocks {
  private readonly held = new Map<string, { abort: AbortController; ended: Promise<void> }>();

  isHeld(id: string): boolean {
    return this.held.has(id);
  }

  /** Ends whoever writes this upload and waits for it. */
  async settle(id: string): Promise<void> {
    for (let held = this.held.get(id); held; held = this.held.get(id)) {
      held.abort.abort();
      await held.ended;
    }
  }

  /** Runs the work as the only writer; its signal fires when a newcomer takes over. */
  async run<T>(id: string, work: (signal: AbortSignal) => Promise<T>): Promise<T> {
    await this.settle(id);
    const abort = new AbortController();
    let release = () => {};
    const ended = new Promise<void>((resolve) => {
      release = resolve;
    });
    this.held.set(id, { abort, ended });
    try {
      return await work(abort.signal);
    } finally {
      this.held.delete(id);
      release();
    }
  }
}
