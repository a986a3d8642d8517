import type { ClipOnPage } from '@/app/lessons/_swing/clip-on-page';
import type { Checklist } from '@/lib/domain/checkpoints/checklist';
import type { Checkpoint } from '@/lib/domain/checkpoints/checkpoint';
import type { Hand } from '@/lib/domain/lessons/state';
import type { Sheet } from '@/lib/domain/review/sheet';
import type { Moment, Side } from '@/lib/review/compare/pairing';
import type { Projection } from '@/lib/review/compare/over';

/** One of the two swings as it stands on the page. */
export interface ComparedSide {
  clip: ClipOnPage;
  lessonId: string;
  number: number;
  /** "21 October": in the program's zone. */
  day: string;
  bats: Hand | null;
  sheet: Sheet | null;
  checklist: Checklist;
  /** Metres on the ground to pixels, where plate or box were clicked. */
  ground: Projection | null;
}

/** A clip that can be chosen, in words. */
export interface ClipChoice {
  clipId: string;
  words: string;
}

/** A measure of both swings and what may be said about the change. */
export interface ComparedMeasure {
  checkpoint: Checkpoint;
  name: string;
  a: string;
  b: string;
  sentence: string;
}

export interface Compared {
  a: ComparedSide;
  b: ComparedSide;
}

/** The frame at which a clip was pinned, or null. */
export const pinnedAt = (side: ComparedSide, checkpoint: Checkpoint): number | null =>
  side.sheet?.pins.find((pin) => pin.clipId === side.clip.id && pin.checkpoint === checkpoint)?.frame ?? null;

/** Frames to lock the pair at for a checkpoint; a clip without the pin keeps the frame it stands on. */
export const locksFor = (sides: Compared, checkpoint: Checkpoint, now: Pick<Moment, Side> | null) => ({
  a: pinnedAt(sides.a, checkpoint) ?? now?.a ?? 0,
  b: pinnedAt(sides.b, checkpoint) ?? now?.b ?? 0,
});

export const SIDE_WORD = { a: 'First', b: 'Second' } as const satisfies Record<Side, string>;
