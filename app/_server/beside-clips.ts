import { dayWords } from '@/app/_ui/moment';
import type { BesideClip } from '@/app/lessons/[lessonId]/_review/use-beside';
import type { Swing } from '@/lib/data/progress.read';
import { VIEW_WORD } from '@/lib/domain/lessons/words';
import type { Viewer } from '@/lib/domain/people/viewer';
import { clipsOnPage } from './clips-on-page';

/** A breakdown speaks about eight clips at most, four of them the lesson's own. */
export const MOST_BESIDE = 4;

/** The clips of a player's earlier lessons, newest first, with what is pinned on them, for a place beside a swing. */
export const besideClips = (
  viewer: Viewer,
  swings: readonly Swing[],
  { now, timeZone }: { now: Date; timeZone: string },
): BesideClip[] =>
  swings.flatMap((swing) =>
    clipsOnPage(viewer, swing.clips, now).map((clip, index) => ({
      clip,
      words: [
        `Lesson ${swing.number}`,
        dayWords(swing.submittedAt, now, timeZone),
        clip.view ? VIEW_WORD[clip.view].toLowerCase() : `clip ${index + 1}`,
      ].join(', '),
      pins: swing.sheet?.pins.filter((pin) => pin.clipId === clip.id) ?? [],
    })),
  );
