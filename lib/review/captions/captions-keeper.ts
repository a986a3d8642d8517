import type { Cue } from '@/lib/domain/captions/cue';
import { writeVtt } from '@/lib/domain/captions/write-vtt';
import { CagepostError } from '@/lib/domain/shared/errors';
import { SnapshotStore } from '../player/snapshot-store';

export interface CaptionsSnapshot {
  cues: readonly Cue[];
  /** Whether the coach has read them over. */
  isReady: boolean;
  /** `lost`: the connection is gone, it is tried again by itself. */
  state: 'kept' | 'changed' | 'saving' | 'lost' | 'conflict' | 'refused';
  canUndo: boolean;
  /** Why the last edit or save was refused; a sentence. */
  refusal: string | null;
  /** What stands on the server while `state` is `conflict`. */
  theirs: string | null;
}

export type CaptionsAnswer =
  | { kind: 'kept'; revision: number }
  | { kind: 'conflict'; vtt: string; revision: number }
  | { kind: 'refused'; sentence: string };

/** Saves the list; rejects when the connection is lost. */
export type SaveCaptions = (list: {
  baseRevision: number;
  vtt: string;
  isReady: boolean;
}) => Promise<CaptionsAnswer>;

const SAVE_AFTER_MS = 1000;
const AGAIN_AFTER_MS = 4000;
const MOST_UNDO = 100;

/** The captions of one breakdown while they are edited. Saves by itself a moment after each edit, one at a time. */
export class CaptionsKeeper {
  private readonly store: SnapshotStore<CaptionsSnapshot>;
  private readonly before: (readonly Cue[])[] = [];
  private revision: number;
  private timer: ReturnType<typeof setTimeout> | null = null;
  private saving: Promise<void> | null = null;
  private theirRevision = 0;
  /** Rises with each edit; a save that began earlier does not cover the later ones. */
  private edits = 0;
  private isDisposed = false;

  constructor(
    start: { cues: readonly Cue[]; isReady: boolean; revision: number },
    private readonly save: SaveCaptions,
  ) {
    this.revision = start.revision;
    this.store = new SnapshotStore<CaptionsSnapshot>({
      cues: start.cues,
      isReady: start.isReady,
      state: 'kept',
      canUndo: false,
      refusal: null,
      theirs: null,
    });
  }

  get getSnapshot() {
    return this.store.getSnapshot;
  }
  get subscribe() {
    return this.store.subscribe;
  }

  /** Applies one edit of `edit-cues`. A refused one changes nothing and says why; answers whether it was done. */
  edit(change: (cues: readonly Cue[]) => readonly Cue[]): boolean {
    const { cues } = this.store.getSnapshot();
    try {
      const next = change(cues);
      if (next === cues) return true;
      this.before.push(cues);
      if (this.before.length > MOST_UNDO) this.before.shift();
      this.store.set({ cues: next, canUndo: true, refusal: null });
      this.changed();
      return true;
    } catch (error) {
      if (!(error instanceof CagepostError)) throw error;
      this.store.set({ refusal: error.forPeople });
      return false;
    }
  }

  undo(): void {
    const cues = this.before.pop();
    if (!cues) return;
    this.store.set({ cues, canUndo: this.before.length > 0, refusal: null });
    this.changed();
  }

  /** Says whether the coach has read them over. */
  setReady(isReady: boolean): void {
    this.store.set({ isReady });
    this.changed();
  }

  /** After a conflict: keeps what is here over what stands there, or takes what stands there (`theirs` read by the caller). */
  settle(how: { keep: 'mine' } | { keep: 'theirs'; cues: readonly Cue[] }): void {
    if (this.store.getSnapshot().state !== 'conflict') return;
    this.revision = this.theirRevision;
    if (how.keep === 'theirs') {
      this.before.push(this.store.getSnapshot().cues);
      this.store.set({ cues: how.cues, canUndo: true, state: 'kept', theirs: null });
      return;
    }
    this.store.set({ theirs: null });
    this.changed();
  }

  /** Saves what is not saved yet; resolves when it is kept or cannot be just now. */
  async flush(): Promise<void> {
    this.clearTimer();
    if (this.saving) await this.saving;
    const { state } = this.store.getSnapshot();
    if (state === 'kept' || state === 'conflict') return;
    this.saving = this.saveOnce().finally(() => {
      this.saving = null;
    });
    await this.saving;
  }

  dispose(): void {
    this.isDisposed = true;
    this.clearTimer();
    this.store.clear();
  }

  private changed(): void {
    this.edits += 1;
    // While somebody else's list waits for an answer nothing is sent over it.
    if (this.store.getSnapshot().state === 'conflict' && this.store.getSnapshot().theirs !== null) return;
    this.store.set({ state: 'changed' });
    this.saveAfter(SAVE_AFTER_MS);
  }

  private saveAfter(ms: number): void {
    this.clearTimer();
    if (!this.isDisposed) this.timer = setTimeout(() => void this.flush(), ms);
  }

  private clearTimer(): void {
    if (this.timer !== null) clearTimeout(this.timer);
    this.timer = null;
  }

  private async saveOnce(): Promise<void> {
    const { cues, isReady } = this.store.getSnapshot();
    const edits = this.edits;
    this.store.set({ state: 'saving' });
    try {
      const answer = await this.save({ baseRevision: this.revision, vtt: writeVtt(cues), isReady });
      if (answer.kind === 'refused') return this.store.set({ state: 'refused', refusal: answer.sentence });
      if (answer.kind === 'conflict') {
        this.theirRevision = answer.revision;
        return this.store.set({ state: 'conflict', theirs: answer.vtt });
      }
      this.revision = answer.revision;
      if (edits === this.edits) return this.store.set({ state: 'kept' });
      this.store.set({ state: 'changed' });
      this.saveAfter(SAVE_AFTER_MS);
    } catch {
      this.store.set({ state: 'lost' });
      this.saveAfter(AGAIN_AFTER_MS);
    }
  }
}
