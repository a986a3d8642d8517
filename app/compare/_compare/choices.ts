import { dayWords } from '@/app/_ui/moment';
import type { Swing } from '@/lib/data/progress.read';
import { CHECKPOINT_NAME, CHECKPOINTS, type Checkpoint } from '@/lib/domain/checkpoints/checkpoint';
import { VIEW_WORD } from '@/lib/domain/lessons/words';
import type { ComparableClip } from '@/lib/domain/progress/partner';
import type { ClipId } from '@/lib/domain/shared/ids';
import type { ClipChoice } from './compared';

const pinnedOn = (swing: Swing, clipId: ClipId): Checkpoint[] =>
  CHECKPOINTS.filter((checkpoint) =>
    swing.sheet?.pins.some((pin) => pin.clipId === clipId && pin.checkpoint === checkpoint),
  );

/** Every ready clip of these lessons, as far as choosing a partner goes. */
export const comparableClips = (swings: readonly Swing[]): ComparableClip[] =>
  swings.flatMap((swing) =>
    swing.clips.map((clip) => ({
      id: clip.id,
      lessonNumber: swing.number,
      view: clip.view,
      pinned: pinnedOn(swing, clip.id),
    })),
  );

const pinWords = (pinned: readonly Checkpoint[]) =>
  pinned.length === 0
    ? 'nothing pinned'
    : pinned.length === CHECKPOINTS.length
      ? 'all checkpoints pinned'
      : `${pinned.map((checkpoint) => CHECKPOINT_NAME[checkpoint].toLowerCase()).join(', ')} pinned`;

/** Every ready clip of these lessons in words, in their order: lesson, day, view, what is pinned. */
export const choicesOf = (swings: readonly Swing[], now: Date, timeZone: string): ClipChoice[] =>
  swings.flatMap((swing) =>
    swing.clips.map((clip, index) => ({
      clipId: clip.id,
      words: [
        `Lesson ${swing.number}`,
        dayWords(swing.submittedAt, now, timeZone),
        clip.view ? VIEW_WORD[clip.view].toLowerCase() : `clip ${index + 1}`,
        pinWords(pinnedOn(swing, clip.id)),
      ].join(', '),
    })),
  );
