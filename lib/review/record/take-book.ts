import type { BreakdownEvent, Scene } from '@/lib/domain/breakdowns/event';
import { durationOf, locate } from '@/lib/domain/breakdowns/join';
import { indexTimeline, sceneAt } from '@/lib/domain/breakdowns/scene';
import type { Piece, Recipe } from '@/lib/domain/breakdowns/timeline';
import type { PartSender } from './part-sender';
import { partCount, partOf } from './take-parts';
import type { Keeping, KeptBreakdown, KeptSlice, KeptTake, TakeStore } from './take-store';

/** One take in memory: what was said and done, half second by half second. */
export interface TakeInBook extends KeptTake {
  readonly slices: KeptSlice[];
  isOver: boolean;
  partsMade: number;
}

/** How many parts the server must have of a take. */
export interface PartsOfTake {
  readonly segmentId: string;
  readonly count: number;
}

/**
 * One breakdown while it is recorded: its takes in memory, the same in the browser's store, and its parts on their way
 * to the server. Whatever one of the three loses, the others have.
 */
export class TakeBook {
  private readonly takes = new Map<string, TakeInBook>();
  private turn: Promise<unknown> = Promise.resolve();
  /** The worst that keeping in the browser came to. */
  keeping: Keeping = 'kept';

  constructor(
    private breakdown: KeptBreakdown,
    private readonly store: TakeStore,
    private readonly sender: PartSender,
    private readonly onKeeping: (keeping: Keeping) => void = () => undefined,
  ) {}

  /** Takes a breakdown up that an earlier page or a killed browser left: an open take ends with its last slice. */
  static async takeUp(
    breakdown: KeptBreakdown,
    store: TakeStore,
    sender: PartSender,
    onKeeping?: (keeping: Keeping) => void,
  ): Promise<TakeBook> {
    const book = new TakeBook(breakdown, store, sender, onKeeping);
    for (const take of breakdown.takes) {
      const slices = await store.slices(take.segmentId);
      for (const number of await store.sent(take.segmentId)) sender.noteSent(take.segmentId, number);
      const inBook = { ...take, slices, isOver: true, partsMade: 0 };
      book.takes.set(take.segmentId, inBook);
      book.makeParts(inBook);
    }
    const heldTo = (piece: Piece) =>
      piece.kind === 'remark' ? piece.toMs : (book.takes.get(piece.segmentId)?.slices.at(-1)?.toMs ?? 0);
    book.breakdown = {
      ...breakdown,
      pieces: breakdown.pieces
        .map((piece) => ({ ...piece, toMs: Math.min(piece.toMs, heldTo(piece) || piece.toMs) }))
        .filter((piece) => piece.toMs > piece.fromMs && heldTo(piece) > 0),
    };
    await book.closeOpen();
    return book;
  }

  get breakdownId(): string {
    return this.breakdown.breakdownId;
  }

  get pieces(): readonly Piece[] {
    return this.breakdown.pieces;
  }

  get ms(): number {
    return durationOf({ pieces: [...this.breakdown.pieces] });
  }

  get recipe(): Recipe {
    return { version: 1, clips: this.breakdown.clips, pieces: [...this.breakdown.pieces] };
  }

  take(segmentId: string): TakeInBook | undefined {
    return this.takes.get(segmentId);
  }

  /** What a piece of this breakdown is cut from; null for a remark. */
  sourceOf(segmentId: string): { events: BreakdownEvent[]; durationMs: number; hasVoice: boolean } | null {
    const take = this.takes.get(segmentId);
    if (!take) return null;
    const events = take.slices.flatMap((slice) => [...slice.events]);
    return { events, durationMs: take.slices.at(-1)?.toMs ?? 0, hasVoice: take.kind === 'voice' };
  }

  /** What was shown at a moment of the whole, in milliseconds; null when nothing is there. */
  sceneAt(ms: number): Scene | null {
    const found = locate({ pieces: [...this.pieces] }, ms);
    const source = found && this.sourceOf(found.piece.segmentId);
    if (!found || !source || source.events.length === 0) return null;
    return sceneAt(indexTimeline(source), found.inTake);
  }

  /** Writes down that a take begins; resolves when a killed browser would find it. */
  async begin(take: KeptTake): Promise<void> {
    this.takes.set(take.segmentId, { ...take, slices: [], isOver: false, partsMade: 0 });
    await this.write({ takes: [...this.breakdown.takes, take], openTake: take.segmentId });
  }

  /** Adds a slice behind the others of its take. Its voice may still be on the way: the order holds. */
  append(
    segmentId: string,
    slice: Pick<KeptSlice, 'fromMs' | 'toMs' | 'events'>,
    voice: Promise<ArrayBuffer> | null,
  ): void {
    const take = this.takes.get(segmentId);
    if (!take) return;
    this.turn = this.turn.then(async () => {
      const number = take.slices.length;
      const bytes = await voice?.catch(() => null);
      const kept = { ...slice, segmentId, number, breakdownId: this.breakdownId, voice: bytes ?? null };
      take.slices.push(kept);
      this.note(await this.store.append(kept));
      this.makeParts(take);
    });
  }

  /** Resolves when every slice is in memory, in the store as far as it takes them, and in a part if one is full. */
  async settled(): Promise<void> {
    await this.turn;
  }

  /** Ends the open take with a length in milliseconds; all of it is used, behind what was used before. */
  async end(lengthMs: number): Promise<void> {
    await this.turn;
    const take = this.takes.get(this.breakdown.openTake ?? '');
    if (!take) return;
    take.isOver = true;
    this.makeParts(take);
    await this.closeOpen(lengthMs);
  }

  /** Uses other pieces of what was recorded. Nothing that was recorded is deleted. */
  async usePieces(pieces: readonly Piece[]): Promise<void> {
    await this.write({ pieces });
  }

  /** Lines up every part that is not on the server; those of `missing` again. */
  sendAgain(missing: readonly { segmentId: string; numbers: readonly number[] }[] = []): void {
    for (const { segmentId, numbers } of missing) this.sender.forget(segmentId, numbers);
    for (const take of this.takes.values()) {
      take.partsMade = 0;
      this.makeParts(take);
    }
  }

  /** The parts of the takes that are used. */
  partsUsed(): PartsOfTake[] {
    const used = new Set(this.pieces.map((piece) => piece.segmentId));
    return [...this.takes.values()]
      .filter((take) => used.has(take.segmentId))
      .map((take) => ({ segmentId: take.segmentId, count: partCount(take.slices.length, take.isOver) }));
  }

  /** The server has all of it; the browser keeps its copy until it stands there joined. */
  async noteKept(): Promise<void> {
    await this.write({ isSent: true });
  }

  async remove(): Promise<void> {
    await this.turn;
    await this.store.remove(this.breakdownId);
  }

  private async closeOpen(lengthMs?: number): Promise<void> {
    const take = this.takes.get(this.breakdown.openTake ?? '');
    const toMs = lengthMs ?? take?.slices.at(-1)?.toMs ?? 0;
    const isUsed = take && toMs > 0 && take.slices.length > 0;
    const piece = isUsed ? [{ segmentId: take.segmentId, kind: take.kind, fromMs: 0, toMs }] : [];
    await this.write({ pieces: [...this.pieces, ...piece], openTake: null });
  }

  private makeParts(take: TakeInBook): void {
    const count = partCount(take.slices.length, take.isOver);
    for (; take.partsMade < count; take.partsMade += 1) {
      const part = partOf(take.slices, take.partsMade, take.voiceType);
      if (part) this.sender.add(part.head, part.voice);
    }
  }

  private async write(change: Partial<KeptBreakdown>): Promise<void> {
    this.breakdown = { ...this.breakdown, ...change };
    this.note(await this.store.put(this.breakdown));
  }

  private note(keeping: Keeping): void {
    if (keeping === 'kept' || keeping === this.keeping) return;
    this.keeping = keeping;
    this.onKeeping(keeping);
  }
}
