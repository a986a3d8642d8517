import { createHash } from 'node:crypto';
import type { Swing } from '@/lib/data/progress.read';
import { focalFromEquivalent } from '@/lib/domain/measures/lens';
import type { MeasureName } from '@/lib/domain/measures/names';
import {
  lessonMeasures,
  type LessonMeasure,
  type MeasuredLesson,
} from '@/lib/domain/progress/lesson-measures';
import { frameTables } from './frame-tables';

/** Swings with the frame tables of those clips on which something was set, as measuring takes them; in their order. */
export async function measuredSwings(swings: readonly Swing[]): Promise<MeasuredLesson[]> {
  const isWorkedOn = ({ sheet }: Swing, clipId: string) =>
    sheet !== null &&
    [...sheet.pins, ...sheet.joints, ...sheet.calibrations].some((one) => one.clipId === clipId);
  const tables = await frameTables(
    swings.flatMap((swing) => swing.clips.filter((clip) => isWorkedOn(swing, clip.id))),
  );
  return swings.map((swing) => ({
    lessonId: swing.lessonId,
    bats: swing.bats,
    pitchMode: swing.pitchMode,
    sheet: swing.sheet && {
      pins: swing.sheet.pins,
      calibrations: swing.sheet.calibrations,
      joints: swing.sheet.joints,
    },
    clips: swing.clips.map(({ id, view, focal35mm, width, height }) => ({
      id,
      view,
      focal: focal35mm && width && height ? focalFromEquivalent(focal35mm, { width, height }) : null,
      table: tables.get(id) ?? null,
    })),
  }));
}

/** Measuring takes some hundredths of a second a clip; what was measured from the same points is kept for the next page. */
const kept = new Map<string, ReadonlyMap<MeasureName, LessonMeasure>>();
const MOST_KEPT = 500;

/** `lessonMeasures`, not worked out again while nothing that it rests on has changed. */
export function keptMeasures(lesson: MeasuredLesson): ReadonlyMap<MeasureName, LessonMeasure> {
  const key = createHash('sha256').update(JSON.stringify(lesson)).digest('base64');
  const known = kept.get(key);
  if (known) return known;
  const found = lessonMeasures(lesson);
  const [oldest] = kept.keys();
  if (oldest && kept.size >= MOST_KEPT) kept.delete(oldest);
  kept.set(key, found);
  return found;
}
