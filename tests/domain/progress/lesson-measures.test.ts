import { describe, expect, test } from 'vitest';
import type { ClipView } from '@/lib/domain/clips/clip';
import type { FrameTable } from '@/lib/domain/clips/frame-table';
import { project, type Camera } from '@/lib/domain/measures/camera';
import { groundPoint } from '@/lib/domain/measures/field';
import { GROUND_NAMES, type JointName } from '@/lib/domain/measures/names';
import type { Vec3 } from '@/lib/domain/measures/vector';
import {
  cameraOn,
  lessonMeasures,
  measuresOnClip,
  type LessonClip,
  type MeasuredLesson,
} from '@/lib/domain/progress/lesson-measures';
import { emptySheet, type Calibration } from '@/lib/domain/review/sheet';
import { camera, HD } from '../../support/look-at';

const SIDE = camera([0.42, -4.2, 1.35], [0.34, 0.7, 0.9], 1250);
const BEHIND = camera([-4.6, 0.3, 1.5], [0.6, 0.5, 0.8], 1250);
const STRIKE = 30;
const table = (captureRate: number | null, fileRate = 60): FrameTable => ({
  version: 1,
  ...HD,
  ptsUs: Array.from({ length: 90 }, (_, frame) => Math.round((frame * 1e6) / fileRate)),
  fileRate,
  captureRate,
});
// A stride foot that is 40 degrees open: from heel to toe, toward the plate and to the pitcher.
const OPEN = 40;
const along = Math.sin((OPEN * Math.PI) / 180) * 0.27;
const across = Math.cos((OPEN * Math.PI) / 180) * 0.27;
const PLACES: Record<JointName, Vec3> = {
  'stride-heel': [0.75, 0.8, 0],
  'stride-toe': [0.75 + along, 0.8 - across, 0],
  'rear-heel': [0, 0.8, 0],
  'rear-toe': [0, 0.53, 0],
  head: [0.4, 0.6, 1.6],
  belt: [0.4, 0.65, 1],
  'front-knee': [0.75, 0.65, 0.5],
  'front-ankle': [0.78, 0.7, 0.1],
  'front-shoulder': [0.6, 0.6, 1.4],
  'rear-shoulder': [0.2, 0.6, 1.4],
};

/** Corners and points of one clip as its camera sees them, without a miss. */
function seenBy(seen: Camera, clipId: string, names: readonly JointName[]) {
  const point = (place: Vec3) => {
    const [x, y] = project(seen, place)!;
    return { x: x / seen.width, y: y / seen.height };
  };
  return {
    calibrations: [
      {
        clipId,
        fromFrame: 0,
        field: 'baseball' as const,
        ground: GROUND_NAMES.map((at) => ({ at, point: point(groundPoint('baseball', 'right', at)) })).filter(
          (corner) => Math.abs(corner.point.x - 0.5) < 0.5 && Math.abs(corner.point.y - 0.5) < 0.5,
        ),
        isZoomed: false,
      },
    ],
    joints: names.map((name) => ({
      clipId,
      frame: STRIKE,
      name,
      point: point(PLACES[name]),
      isLifted: false,
    })),
    pins: (['load', 'foot_strike', 'contact'] as const).map((checkpoint, index) => ({
      checkpoint,
      clipId,
      frame: STRIKE - 12 + index * 12,
      strike: checkpoint === 'foot_strike' ? ('full_plant' as const) : null,
    })),
  };
}

const ALL = Object.keys(PLACES) as JointName[];
const clip = (id: string, view: ClipView, facts: Partial<LessonClip> = {}): LessonClip => ({
  id,
  view,
  focal: null,
  table: table(60),
  ...facts,
});

function lesson(clips: readonly LessonClip[], facts: Partial<MeasuredLesson> = {}): MeasuredLesson {
  const parts = clips.map(({ id, view }) => seenBy(view === 'behind' ? BEHIND : SIDE, id, ALL));
  return {
    lessonId: 'lesson-1',
    bats: 'right',
    pitchMode: 'tee',
    sheet: {
      ...emptySheet(),
      calibrations: parts.flatMap((part) => part.calibrations),
      joints: parts.flatMap((part) => part.joints),
      pins: parts.flatMap((part) => part.pins),
    },
    clips,
    ...facts,
  };
}

describe('the measures of a lesson', () => {
  test('are those that its points carry, with how they were come by', () => {
    const found = lessonMeasures(lesson([clip('one', 'open_side')]));
    const foot = found.get('stride-foot-openness')!;
    expect(foot.measure.status).toBe('measured');
    expect(foot.measure.value).toBeCloseTo(OPEN, 0);
    expect(foot).toMatchObject({
      clipId: 'one',
      sessionId: 'lesson-1',
      conditions: { view: 'open_side', captureRate: 60, task: 'tee' },
    });
    expect(found.get('foot-strike-to-contact')?.measure.value).toBeCloseTo(200, 0);
  });

  test('of several clips the one that carries a measure best counts', () => {
    const both = lesson([clip('behind', 'behind'), clip('side', 'open_side')]);
    const [behind, side] = both.clips.map((one) => measuresOnClip(both, one));
    // From behind nothing can be said along the pitcher line.
    expect(behind?.get('head-ahead-of-belt')?.measure.status).not.toBe('measured');
    expect(side?.get('head-ahead-of-belt')?.measure.status).toBe('measured');
    expect(lessonMeasures(both).get('head-ahead-of-belt')?.clipId).toBe('side');
    expect(
      lessonMeasures({ ...both, clips: [...both.clips].reverse() }).get('head-ahead-of-belt')?.clipId,
    ).toBe('side');
  });

  test('rates as cameras write them are those that are meant', () => {
    const rateOf = (captureRate: number) =>
      lessonMeasures(lesson([clip('one', 'open_side', { table: table(captureRate) })])).get('trunk-lean')
        ?.conditions.captureRate;
    expect([29.97, 59.94, 119.88, 239.76, 240].map(rateOf)).toEqual([30, 60, 120, 240, 240]);
  });

  test('without a capture rate times are refused and places are not', () => {
    const found = lessonMeasures(lesson([clip('one', 'open_side', { table: table(null) })]));
    expect(found.get('foot-strike-to-contact')?.measure).toMatchObject({ status: 'refused', value: null });
    expect(found.get('stride-foot-openness')?.measure.status).toBe('measured');
    expect(found.get('stride-foot-openness')?.conditions.captureRate).toBeNull();
  });

  test('there are none without the hand, without the frames, or where nothing was set', () => {
    const whole = lesson([clip('one', 'open_side')]);
    expect(lessonMeasures({ ...whole, bats: null }).size).toBe(0);
    expect(lessonMeasures({ ...whole, sheet: null }).size).toBe(0);
    expect(lessonMeasures({ ...whole, sheet: emptySheet() }).size).toBe(0);
    expect(lessonMeasures(lesson([clip('one', 'open_side', { table: null })])).size).toBe(0);
  });
});

describe('the camera of a clip', () => {
  test('is the one that took it', () => {
    const one = clip('one', 'open_side');
    const found = cameraOn(lesson([one]), one, STRIKE)!;
    expect(Math.hypot(...found.position.map((value, axis) => value - SIDE.position[axis]!))).toBeLessThan(
      0.2,
    );
  });

  test('is not known without corners, before the first of them, or where they are refused', () => {
    const one = clip('one', 'open_side');
    const whole = lesson([one]);
    const [calibration] = whole.sheet!.calibrations;
    const given = (calibrations: Calibration[]) =>
      cameraOn({ ...whole, sheet: { ...whole.sheet!, calibrations } }, one, STRIKE);
    expect(given([])).toBeNull();
    expect(given([{ ...calibration!, fromFrame: STRIKE + 1 }])).toBeNull();
    expect(given([{ ...calibration!, ground: calibration!.ground.slice(0, 3) }])).toBeNull();
  });
});
