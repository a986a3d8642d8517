import type { Swing } from '@/lib/data/progress.read';
import { focalFromEquivalent } from '@/lib/domain/measures/lens';
import type { MeasuredLesson } from '@/lib/domain/progress/lesson-measures';
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
    sheet: swing.sheet,
    clips: swing.clips.map(({ id, view, focal35mm, width, height }) => ({
      id,
      view,
      focal: focal35mm && width && height ? focalFromEquivalent(focal35mm, { width, height }) : null,
      table: tables.get(id) ?? null,
    })),
  }));
}
