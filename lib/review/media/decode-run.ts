import type { EncodedPacket, EncodedPacketSink } from 'mediabunny';
import { CagepostError } from '@/lib/domain/shared/errors';
import type { PacketIndex } from './packet-index';

/** Few, so that a new request is not kept waiting behind packets that nobody needs any more. */
const MOST_QUEUED = 3;

/** Where a run is going. Positions are in decode order. */
export interface Course {
  /** Display index of the frame that is needed next. */
  display: number;
  /** Feed on up to here, because the frames up to here are wanted too. */
  untilPosition: number;
  /** Nothing is wanted behind `untilPosition`: push out what the decoder holds back instead of feeding more. */
  isLast: boolean;
}

/**
 * One VideoDecoder fed from one packet list. Going on forwards costs no reset; anything else starts again at the
 * key packet before. `onFrame` owns each frame that it is given.
 */
export class DecodeRun {
  private decoder: VideoDecoder | null = null;
  private error: Error | null = null;
  private startPosition = -1;
  private nextPosition = -1;
  private nextPacket: EncodedPacket | null = null;
  private readonly inFlight = new Set<number>();
  private wakeUp: (() => void) | null = null;
  private isClosed = false;

  constructor(
    private readonly sink: EncodedPacketSink,
    private readonly index: PacketIndex,
    private readonly config: VideoDecoderConfig,
    private readonly onFrame: (display: number, frame: VideoFrame) => void,
  ) {}

  /** One step along the course: feeds a packet, flushes, or waits until something happens or `wake` is called. */
  async advance(course: Course): Promise<void> {
    this.throwIfBroken();
    if (!this.reaches(course.display)) return this.restart(this.index.startFor(course.display));

    const isAtEnd = this.nextPosition >= this.index.packets.length;
    const isFed = this.nextPosition > course.untilPosition;
    if (isAtEnd || (isFed && course.isLast)) return this.flush();

    const queued = this.decoder?.decodeQueueSize ?? 0;
    // Past the course one packet at a time: it pushes a reordered frame out without ending the run.
    if (queued < (isFed ? 1 : MOST_QUEUED)) return this.feed();
    await this.somethingHappens();
  }

  /** Resolves at the next output, free place in the queue, failure or `wake`. */
  somethingHappens(): Promise<void> {
    return new Promise((resolve) => {
      this.wakeUp = resolve;
    });
  }

  wake(): void {
    this.wakeUp?.();
    this.wakeUp = null;
  }

  close(): void {
    this.isClosed = true;
    this.drop();
    this.wake();
  }

  private reaches(display: number): boolean {
    if (this.nextPosition < 0 || this.decoder?.state !== 'configured') return false;
    const start = this.index.startFor(display);
    if (start < this.startPosition) return false;
    if (this.inFlight.has(display)) return true;
    return this.index.position(display) >= this.nextPosition && start <= this.nextPosition;
  }

  private async restart(position: number): Promise<void> {
    this.inFlight.clear();
    if (!this.decoder || this.decoder.state === 'closed') this.decoder = this.createDecoder();
    else this.decoder.reset();
    this.decoder.configure(this.config);
    this.startPosition = position;
    this.nextPosition = position;
    const key = this.index.packets[position];
    this.nextPacket = key ? await this.sink.getPacket(key.packet.timestamp) : null;
    this.throwIfBroken();
  }

  private async feed(): Promise<void> {
    const expected = this.index.packets[this.nextPosition];
    const packet = this.nextPacket;
    if (!expected || packet?.microsecondTimestamp !== expected.packet.microsecondTimestamp)
      throw new CagepostError('internal', 'The clip changed while it was open. Load the page again.', {
        position: this.nextPosition,
      });
    if (expected.display >= 0) this.inFlight.add(expected.display);
    this.decoder?.decode(packet.toEncodedVideoChunk());
    this.nextPosition++;
    this.nextPacket = await this.sink.getNextPacket(packet);
    this.throwIfBroken();
  }

  private async flush(): Promise<void> {
    // After a flush a decoder takes a key packet only: the run is over whatever comes out.
    this.nextPosition = -1;
    await this.decoder?.flush();
    this.throwIfBroken();
    if (this.inFlight.size > 0) {
      const missing = [...this.inFlight];
      this.inFlight.clear();
      throw new CagepostError('unsupported', 'This browser could not read some frames of this clip.', {
        missing,
      });
    }
  }

  private createDecoder(): VideoDecoder {
    const decoder = new VideoDecoder({
      output: (frame) => {
        const display = this.index.displayOf(frame.timestamp);
        this.inFlight.delete(display);
        // Leading frames of an open group come out broken when decoding began at that group.
        if (this.isClosed || display < 0 || this.index.startFor(display) < this.startPosition) frame.close();
        else this.onFrame(display, frame);
        this.wake();
      },
      error: (error) => {
        if (this.decoder === decoder) this.error = error;
        this.wake();
      },
    });
    decoder.addEventListener('dequeue', () => this.wake());
    return decoder;
  }

  private throwIfBroken(): void {
    if (this.isClosed) throw new DOMException('The clip was closed.', 'AbortError');
    if (!this.error) return;
    const cause = this.error;
    this.error = null;
    this.drop();
    throw cause;
  }

  private drop(): void {
    if (this.decoder && this.decoder.state !== 'closed') this.decoder.close();
    this.decoder = null;
    this.nextPosition = -1;
    this.inFlight.clear();
  }
}
