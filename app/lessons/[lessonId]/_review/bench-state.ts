import type { ClipOnPage } from '@/app/lessons/_swing/clip-on-page';
import type { Checkpoint, StrikeKind } from '@/lib/domain/checkpoints/checkpoint';
import type { LessonDetail } from '@/lib/domain/lessons/lesson';
import { pinOf } from '@/lib/domain/review/edits';
import type { FrameTable } from '@/lib/domain/clips/frame-table';
import type { Target } from '@/lib/domain/measures/target';
import type { Drill } from '@/lib/domain/drills/drill';
import type { Sheet } from '@/lib/domain/review/sheet';
import type { LessonId } from '@/lib/domain/shared/ids';
import type { BesideClip } from './use-beside';

/** What the bench is given by its page. */
export interface BenchProps {
  lesson: LessonDetail;
  clips: readonly ClipOnPage[];
  /** Clips of the player's earlier lessons, which can stand beside one of these. */
  others: readonly BesideClip[];
  kept: { sheet: Sheet; revision: number };
  viewerId: string;
  age: number | null;
  /** The returned sheet of the lesson this one follows. */
  before: { number: number; at: Date; fixFirst: string; sheet: Sheet } | null;
  /** Why nothing can be returned to this player now, or null. */
  closed: string | null;
  told: readonly { name: string; at: Date }[];
  nextId: LessonId | null;
  /** The frames of each ready clip, for what is measured. */
  tables: Readonly<Record<string, FrameTable>>;
  /** What is wanted of this player's measures, ended ones too. */
  targets: readonly Target[];
  /** The program's library. */
  drills: readonly Drill[];
  /** How many drills of earlier lessons the player still practises. */
  stillGiven: number;
  now: Date;
  timeZone: string;
}

/** Where a pin of a checkpoint stands: on this clip, else on the first other one that has it. */
export function pinFor(sheet: Sheet, checkpoint: Checkpoint, clipId: string | null) {
  const here = clipId ? pinOf(sheet, checkpoint, clipId) : undefined;
  return here ?? sheet.pins.find((pin) => pin.checkpoint === checkpoint) ?? null;
}

/** How many items of a checklist have no verdict yet. */
export const leftToJudge = (sheet: Sheet, itemIds: readonly string[]): number =>
  itemIds.filter((id) => !sheet.answers.some((answer) => answer.itemId === id && answer.verdict !== null))
    .length;

export const STRIKE_WORD = {
  toe: 'toe touch',
  heel: 'heel touch',
  full_plant: 'full plant',
} as const satisfies Record<StrikeKind, string>;
