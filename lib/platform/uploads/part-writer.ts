import { open, type FileHandle } from 'node:fs/promises';

/** Bytes that may wait in memory; a killed server loses no more than these. */
const WAITING_BYTES = 256 * 1024;
const SYNC_EVERY = 16 * 1024 * 1024;

/**
 * Appends chunks to a growing file. Writing goes on while the next chunks arrive, and the disk is told to keep what
 * it has every 16 MiB without holding up the sender.
 */
export class PartWriter {
  private waiting: Buffer[] = [];
  private waitingBytes = 0;
  private unsynced = 0;
  private failure: unknown = null;
  private writing: Promise<void> | null = null;
  private syncing: Promise<void> | null = null;
  writtenBytes = 0;

  private constructor(
    private readonly handle: FileHandle,
    private readonly onSynced: (writtenBytes: number) => void,
  ) {}

  /** Opens the file for appending; `onSynced` hears how many bytes of this writer are safe. */
  static async open(file: string, onSynced: (writtenBytes: number) => void): Promise<PartWriter> {
    return new PartWriter(await open(file, 'a', 0o600), onSynced);
  }

  /** Takes a chunk; answers a promise to wait for when the sender should pause. Throws what writing threw. */
  push(chunk: Buffer): Promise<void> | undefined {
    if (this.failure !== null) throw this.failure;
    this.waiting.push(chunk);
    this.waitingBytes += chunk.length;
    this.writing ??= this.drain();
    return this.waitingBytes > WAITING_BYTES ? this.writing : undefined;
  }

  /** Writes what waits and makes all of it outlive a crash. */
  async settle(): Promise<void> {
    while (this.writing) await this.writing;
    await this.syncing;
    if (this.failure !== null) throw this.failure;
    await this.handle.sync();
  }

  async close(): Promise<void> {
    await this.handle.close();
  }

  private async drain(): Promise<void> {
    try {
      while (this.waiting.length > 0 && this.failure === null) {
        const batch = this.waiting;
        this.waiting = [];
        this.waitingBytes = 0;
        await this.writeAll(batch);
      }
    } catch (error) {
      this.failure = error;
      this.waiting = [];
      this.waitingBytes = 0;
    } finally {
      this.writing = null;
    }
  }

  private async writeAll(batch: Buffer[]): Promise<void> {
    const total = batch.reduce((sum, chunk) => sum + chunk.length, 0);
    const { bytesWritten } = await this.handle.writev(batch);
    // A short write is rare (a full disk, a signal): the rest goes in one piece and throws if it cannot.
    if (bytesWritten < total) await this.handle.appendFile(Buffer.concat(batch).subarray(bytesWritten));
    this.writtenBytes += total;
    this.unsynced += total;
    if (this.unsynced >= SYNC_EVERY) {
      await this.syncing;
      this.unsynced = 0;
      this.syncing = this.syncNow(this.writtenBytes);
    }
  }

  private async syncNow(upTo: number): Promise<void> {
    try {
      await this.handle.datasync();
      this.onSynced(upTo);
    } catch (error) {
      this.failure ??= error;
    }
  }
}
