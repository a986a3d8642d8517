import { dayWords } from '@/app/_ui/moment';
import type { ComparedSide } from '@/app/compare/_compare/compared';
import type { Swing } from '@/lib/data/progress.read';
import type { Viewer } from '@/lib/domain/people/viewer';
import type { ClipId } from '@/lib/domain/shared/ids';
import { clipsOnPage } from './clips-on-page';

/** One of two compared swings with addresses that this viewer may fetch its clip under; null when the clip is not ready. */
export function comparedSide(
  viewer: Viewer,
  swing: Swing,
  clipId: ClipId,
  { now, timeZone }: { now: Date; timeZone: string },
): ComparedSide | null {
  const [clip] = clipsOnPage(
    viewer,
    swing.clips.filter((one) => one.id === clipId),
    now,
  );
  return (
    (clip && {
      clip,
      lessonId: swing.lessonId,
      number: swing.number,
      day: dayWords(swing.submittedAt, now, timeZone),
      bats: swing.bats,
      sheet: swing.sheet,
      checklist: swing.checklist,
      ground: null,
    }) ??
    null
  );
}
