const WINDOW_MS = 8000;

/** How fast bytes have been leaving lately. */
export interface Pace {
  bytesPerSecond: number | null;
  /** Null while it cannot be told. */
  secondsLeft: number | null;
}

/** Measures the pace over the last eight seconds, from instants in milliseconds and bytes sent so far. */
export class PaceMeter {
  private samples: { at: number; bytes: number }[] = [];

  note(at: number, bytes: number): void {
    // A new try starts from the offset of the server, which may lie behind what was counted as sent.
    const last = this.samples.at(-1);
    if (last && bytes < last.bytes) this.samples = [];
    this.samples.push({ at, bytes });
    while ((this.samples[0]?.at ?? at) < at - WINDOW_MS) this.samples.shift();
  }

  reset(): void {
    this.samples = [];
  }

  paceTo(totalBytes: number): Pace {
    const first = this.samples[0];
    const last = this.samples.at(-1);
    if (!first || !last || last.at - first.at < 500 || last.bytes === first.bytes)
      return { bytesPerSecond: null, secondsLeft: null };
    const bytesPerSecond = ((last.bytes - first.bytes) * 1000) / (last.at - first.at);
    return { bytesPerSecond, secondsLeft: Math.ceil((totalBytes - last.bytes) / bytesPerSecond) };
  }
}
