/**
 * One writer a clip. A newcomer ends the older writer (its connection is dead, or a second tab took over) and waits
 * until its bytes are settled, so that the offset it then reads is the true one.
 */
export class WriterLocks {
  private readonly held = new Map<string, { abort: AbortController; ended: Promise<void> }>();

  isHeld(clipId: string): boolean {
    return this.held.has(clipId);
  }

  /** Ends whoever writes this clip and waits for it. */
  async settle(clipId: string): Promise<void> {
    for (let held = this.held.get(clipId); held; held = this.held.get(clipId)) {
      held.abort.abort();
      await held.ended;
    }
  }

  /** Runs the work as the only writer; its signal fires when a newcomer takes over. */
  async run<T>(clipId: string, work: (signal: AbortSignal) => Promise<T>): Promise<T> {
    await this.settle(clipId);
    const abort = new AbortController();
    let release = () => {};
    const ended = new Promise<void>((resolve) => {
      release = resolve;
    });
    this.held.set(clipId, { abort, ended });
    try {
      return await work(abort.signal);
    } finally {
      this.held.delete(clipId);
      release();
    }
  }
}
