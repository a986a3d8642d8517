import type { Held } from './frame-source';

interface Closable {
  close(): void;
}

/**
 * Frames kept by display index within a limit of bytes; the one used longest ago goes first. It owns what is put
 * in: an evicted, replaced or cleared frame is closed, because an unclosed one stalls the decoder or leaks memory
 * that the garbage collector does not see. The pinned frame (the one on the stage) is never evicted.
 */
export class FrameCache<Frame extends Closable> {
  // A Map keeps insertion order: the first key is the one used longest ago.
  private readonly frames = new Map<number, { frame: Frame; bytes: number }>();
  private bytes = 0;
  private pinned: number | null = null;

  constructor(private readonly limitBytes: number) {}

  has(index: number): boolean {
    return this.frames.has(index);
  }

  /** The frame without counting as a use. */
  peek(index: number): Frame | null {
    return this.frames.get(index)?.frame ?? null;
  }

  /** Counts as a use. */
  touch(index: number): void {
    const entry = this.frames.get(index);
    if (!entry) return;
    this.frames.delete(index);
    this.frames.set(index, entry);
  }

  pin(index: number | null): void {
    this.pinned = index;
  }

  put(index: number, frame: Frame, bytes: number): void {
    this.remove(index);
    this.frames.set(index, { frame, bytes });
    this.bytes += bytes;
    for (const oldest of this.frames.keys()) {
      if (this.bytes <= this.limitBytes) return;
      if (oldest !== this.pinned && oldest !== index) this.remove(oldest);
    }
  }

  held(): Held {
    return { frames: this.frames.size, bytes: this.bytes };
  }

  clear(): void {
    for (const index of [...this.frames.keys()]) this.remove(index);
    this.pinned = null;
  }

  private remove(index: number): void {
    const entry = this.frames.get(index);
    if (!entry) return;
    this.frames.delete(index);
    this.bytes -= entry.bytes;
    entry.frame.close();
  }
}
