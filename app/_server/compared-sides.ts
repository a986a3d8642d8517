import { dayWords } from '@/app/_ui/moment';
import type { ComparedMeasure, ComparedSide } from '@/app/compare/_compare/compared';
import type { Swing } from '@/lib/data/progress.read';
import { CHECKPOINTS } from '@/lib/domain/checkpoints/checkpoint';
import { groundHomography } from '@/lib/domain/measures/camera';
import { loneMeasures } from '@/lib/domain/measures/items';
import { MEASURE_LABEL, measureText } from '@/lib/domain/measures/words';
import type { Viewer } from '@/lib/domain/people/viewer';
import { changeSentence } from '@/lib/domain/progress/change-words';
import {
  cameraOn,
  measuresOnClip,
  type LessonMeasure,
  type MeasuredLesson,
} from '@/lib/domain/progress/lesson-measures';
import type { Projection } from '@/lib/review/compare/over';
import { clipsOnPage } from './clips-on-page';

interface When {
  now: Date;
  timeZone: string;
}

/** One of two compared swings with addresses that this viewer may fetch its clip under; null when the clip is not ready. */
export function comparedSide(
  viewer: Viewer,
  swing: Swing,
  clipId: string,
  measured: MeasuredLesson | undefined,
  { now, timeZone }: When,
): ComparedSide | null {
  const [clip] = clipsOnPage(
    viewer,
    swing.clips.filter((one) => one.id === clipId),
    now,
  );
  if (!clip) return null;
  return {
    clip,
    lessonId: swing.lessonId,
    number: swing.number,
    day: dayWords(swing.submittedAt, now, timeZone),
    bats: swing.bats,
    sheet: swing.sheet,
    checklist: swing.checklist,
    ground: measured ? groundOn(measured, clipId) : null,
  };
}

function groundOn(lesson: MeasuredLesson, clipId: string): Projection | null {
  const clip = lesson.clips.find((one) => one.id === clipId);
  const strike = lesson.sheet?.pins.find(
    (pin) => pin.clipId === clipId && pin.checkpoint === 'foot_strike',
  )?.frame;
  const camera = clip && cameraOn(lesson, clip, strike ?? 0);
  const numbers = camera && groundHomography(camera);
  return numbers?.length === 9 ? (numbers as unknown as Projection) : null;
}

/** Every measure that at least one of the two clips carries, and what may be said about the change. */
export function comparedMeasures(
  a: MeasuredLesson | undefined,
  b: MeasuredLesson | undefined,
  clips: { a: string; b: string },
): ComparedMeasure[] {
  const on = (lesson: MeasuredLesson | undefined, clipId: string) => {
    const clip = lesson?.clips.find((one) => one.id === clipId);
    return lesson && clip ? measuresOnClip(lesson, clip) : new Map<string, LessonMeasure>();
  };
  const [then, next] = [on(a, clips.a), on(b, clips.b)];
  const words = (one: LessonMeasure | null) =>
    one === null
      ? 'not measured'
      : one.measure.value === null && one.measure.reason
        ? `not measured: ${one.measure.reason}`
        : measureText(one.measure);
  return CHECKPOINTS.flatMap((checkpoint) =>
    loneMeasures(checkpoint, []).flatMap((name) => {
      const [one, two] = [then.get(name) ?? null, next.get(name) ?? null];
      if (one?.measure.value == null && two?.measure.value == null) return [];
      return [
        {
          checkpoint,
          name: MEASURE_LABEL[name],
          a: words(one),
          b: words(two),
          sentence: changeSentence(one, two),
        },
      ];
    }),
  );
}
