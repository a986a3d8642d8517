import type { FrameTable } from '@/lib/domain/clips/frame-table';
import type { ClipFacts } from '@/lib/domain/lessons/lesson';
import type { Hand } from '@/lib/domain/lessons/state';
import type { Calibrated } from '@/lib/domain/measures/calibrate';
import { clipMeasures, type SheetPoints } from '@/lib/domain/measures/from-sheet';
import { focalFromEquivalent } from '@/lib/domain/measures/lens';
import type { Measure } from '@/lib/domain/measures/measure';
import type { MeasureName } from '@/lib/domain/measures/names';
import type { MeasureRecord } from '@/lib/domain/measures/record';

type Clip = Pick<
  ClipFacts,
  'id' | 'view' | 'state' | 'captureRate' | 'rateIsSure' | 'focal35mm' | 'isZoomed'
>;

/** The numbers of one clip, with the frame of foot strike and the camera they came from. */
export interface ClipMeasured {
  clipId: string;
  view: ClipFacts['view'];
  strikeFrame: number | null;
  calibration: Calibrated | null;
  measures: readonly Measure[];
}

/** A clip with its frame table as `lib/domain/measures` wants it. A rate that nobody confirmed is left out. */
export const measurable = (clip: Clip, table: FrameTable) => ({
  id: clip.id,
  table: { ...table, captureRate: clip.rateIsSure ? clip.captureRate : null },
  // A zoomed lens is not the one that the file names.
  focal:
    clip.focal35mm === null || clip.isZoomed === true ? null : focalFromEquivalent(clip.focal35mm, table),
});

const perClip = (
  sheet: SheetPoints,
  clips: readonly Clip[],
  tables: Readonly<Record<string, FrameTable>>,
  bats: Hand | null,
) =>
  clips.flatMap((clip) => {
    const table = tables[clip.id];
    if (!table || !bats || clip.state !== 'ready') return [];
    // Asked of the sender; the coach's own answer comes first.
    const calibrations = sheet.calibrations.map((one) => ({
      ...one,
      isZoomed: one.isZoomed ?? clip.isZoomed,
    }));
    const made = clipMeasures({ sheet: { ...sheet, calibrations }, clip: measurable(clip, table), bats });
    return [{ clip, made }];
  });

/**
 * Every measure of every ready clip, made anew from the points on the sheet. Nothing without the side the hitter bats
 * from, which decides which foot strides.
 */
export const measureClips = (...given: Parameters<typeof perClip>): ClipMeasured[] =>
  perClip(...given).map(({ clip, made }) => ({
    clipId: clip.id,
    view: clip.view,
    strikeFrame: made.strikeFrame,
    calibration: made.calibration,
    measures: made.measures,
  }));

/** The open record of each clip that somebody began to measure, as `npm run measure` reads an array of them. */
export const recordsOfLesson = (...given: Parameters<typeof perClip>): MeasureRecord[] =>
  perClip(...given)
    .filter(({ clip }) => isBegun(given[0], clip.id))
    .map(({ made }) => made.record);

const RANK = { measured: 0, estimate: 1, refused: 2 } as const;

/**
 * The measure of that name that says most: measured before estimated before refused, the clip on the stage first among
 * equals. Null when no clip was looked at.
 */
export const bestMeasure = (
  name: MeasureName,
  measured: readonly ClipMeasured[],
  clipId: string | null,
): { measure: Measure; from: ClipMeasured } | null => {
  const found = measured.flatMap((from) => {
    const measure = from.measures.find((one) => one.name === name);
    return measure ? [{ measure, from }] : [];
  });
  const order = (one: (typeof found)[number]) =>
    RANK[one.measure.status] * 2 + (one.from.clipId === clipId ? 0 : 1);
  return found.sort((a, b) => order(a) - order(b))[0] ?? null;
};

/** Whether somebody began to measure a clip: only then refusals are worth reading. */
const isBegun = (sheet: SheetPoints, clipId: string): boolean =>
  sheet.calibrations.some((one) => one.clipId === clipId && one.ground.length > 0) ||
  sheet.joints.some((one) => one.clipId === clipId);
