import type { ClipView } from '../clips/clip';
import type { FrameTable } from '../clips/frame-table';
import type { Hand, PitchMode } from '../lessons/state';
import type { Conditions, Occasion } from '../measures/change';
import { calibrationOf, clipMeasures, type SheetPoints } from '../measures/from-sheet';
import type { Measure } from '../measures/measure';
import { MEASURE_NAMES, type MeasureName } from '../measures/names';
import type { Status } from '../measures/evidence';
import type { Camera } from '../measures/camera';

/** A clip of a lesson as far as numbers go; `table` null when it could not be read. */
export interface LessonClip {
  readonly id: string;
  readonly view: ClipView | null;
  /** In pixels of the rendition, where the file told it. */
  readonly focal: number | null;
  readonly table: FrameTable | null;
}

/** A lesson from which numbers come. */
export interface MeasuredLesson {
  readonly lessonId: string;
  readonly bats: Hand | null;
  readonly pitchMode: PitchMode | null;
  readonly sheet: SheetPoints | null;
  readonly clips: readonly LessonClip[];
}

/** A measure of one lesson, with the clip it was taken from. */
export interface LessonMeasure extends Occasion {
  readonly clipId: string;
}

/** Cameras write 29.97 and 239.76 for 30 and 240: rates are told apart by steps of five pictures a second. */
const plainRate = (rate: number | null): number | null => (rate === null ? null : Math.round(rate / 5) * 5);

const conditionsOf = (lesson: MeasuredLesson, clip: LessonClip): Conditions => ({
  view: clip.view,
  captureRate: plainRate(clip.table?.captureRate ?? null),
  task: lesson.pitchMode,
});

const RANK: Record<Status, number> = { measured: 0, estimate: 1, refused: 2 };
const width = ({ interval }: Measure) => (interval ? interval[1] - interval[0] : Infinity);
const isBetter = (one: Measure, two: Measure) =>
  RANK[one.status] - RANK[two.status] || width(one) - width(two);

/** Whether anything was set on the clip that a number could come from. */
const isWorkedOn = (sheet: SheetPoints, { id }: LessonClip): boolean =>
  sheet.joints.some((joint) => joint.clipId === id) ||
  sheet.calibrations.some((one) => one.clipId === id) ||
  sheet.pins.filter((pin) => pin.clipId === id).length > 1;

/**
 * The measures of one clip of a lesson by name; none when the hand is not known, its table could not be read or nothing
 * was set on it.
 */
export function measuresOnClip(
  lesson: MeasuredLesson,
  clip: LessonClip,
): ReadonlyMap<MeasureName, LessonMeasure> {
  const { sheet, bats } = lesson;
  const { table } = clip;
  if (!sheet || !bats || !table || !isWorkedOn(sheet, clip)) return new Map();
  const { measures } = clipMeasures({ sheet, clip: { id: clip.id, table, focal: clip.focal }, bats });
  const conditions = conditionsOf(lesson, clip);
  return new Map(
    measures.map((measure) => [
      measure.name,
      { measure, conditions, sessionId: lesson.lessonId, clipId: clip.id },
    ]),
  );
}

/** For each measure what the lesson says best: of its clips the one that carries it, the narrower interval first. */
export function lessonMeasures(lesson: MeasuredLesson): ReadonlyMap<MeasureName, LessonMeasure> {
  const all = lesson.clips.map((clip) => measuresOnClip(lesson, clip));
  return new Map(
    MEASURE_NAMES.flatMap((name) => {
      const found = all.flatMap((one) => one.get(name) ?? []);
      const [best] = found.sort((a, b) => isBetter(a.measure, b.measure));
      return best ? [[name, best] as const] : [];
    }),
  );
}

/** The camera of a clip as its corners give it at a frame; null without corners, or when they are refused. */
export function cameraOn(lesson: MeasuredLesson, clip: LessonClip, frame: number): Camera | null {
  const { sheet, bats } = lesson;
  const { table } = clip;
  const [calibration] = (sheet?.calibrations ?? [])
    .filter((one) => one.clipId === clip.id && one.fromFrame <= frame)
    .sort((a, b) => b.fromFrame - a.fromFrame);
  if (!calibration || !bats || !table) return null;
  const found = calibrationOf(calibration, { id: clip.id, table, focal: clip.focal }, bats);
  return found.ok ? found.camera : null;
}
