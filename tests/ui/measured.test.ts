import { describe, expect, it } from 'vitest';
import { bestMeasure, measureClips, recordsOfLesson } from '@/app/lessons/_measure/measured';
import type { ClipFacts } from '@/lib/domain/lessons/lesson';
import { parseRecords } from '@/lib/domain/measures/record';
import { putCalibration, putJoint, pin } from '@/lib/domain/review/edits';
import { emptySheet, type Sheet } from '@/lib/domain/review/sheet';
import type { ClipId } from '@/lib/domain/shared/ids';
import { truthOfClip } from '../e2e/flow/clicks';
import { GROUND_NAMES, JOINT_NAMES } from '@/lib/domain/measures/names';

const CLIP = '018f5e2a-0000-7000-8000-00000000c11b' as ClipId;
const OTHER = '018f5e2a-0000-7000-8000-00000000c11c' as ClipId;
const STRIKE = 116;
const TRUTH = truthOfClip('fifteen-3-open-side');

const buildClip = (overrides: Partial<ClipFacts> = {}): ClipFacts => ({
  id: CLIP,
  position: 0,
  view: 'open_side',
  state: 'ready',
  progress: 100,
  fault: null,
  ...TRUTH.size,
  frameCount: 192,
  fileRate: 120,
  captureRate: 120,
  rateIsSure: true,
  focal35mm: null,
  isZoomed: null,
  sizeBytes: 1,
  ...overrides,
});
const table = (overrides: { width?: number; height?: number } = {}) => ({
  version: 1 as const,
  ...TRUTH.size,
  ptsUs: Array.from({ length: 192 }, (_, i) => Math.round((i * 1e6) / 120)),
  fileRate: 120,
  captureRate: 120,
  ...overrides,
});
const fraction = ([x, y]: readonly [number, number]) => ({
  x: x / TRUTH.size.width,
  y: y / TRUTH.size.height,
});
const ground = GROUND_NAMES.map((at) => ({ at, point: fraction(TRUTH.corner(at)) }));
const pinned = (['load', 'foot_strike', 'contact'] as const).reduce(
  (sheet, checkpoint, i) =>
    pin(sheet, { checkpoint, clipId: CLIP, frame: [67, STRIKE, 137][i]!, strike: null }),
  emptySheet(),
);
const withPoints = (sheet: Sheet) =>
  JOINT_NAMES.reduce(
    (on, name) =>
      putJoint(on, {
        clipId: CLIP,
        frame: STRIKE,
        name,
        point: fraction(TRUTH.joint(name, STRIKE)),
        isLifted: false,
      }),
    sheet,
  );
const calibration = { clipId: CLIP, fromFrame: 0, field: 'baseball' as const, ground, isZoomed: null };
const whole = putCalibration(withPoints(pinned), calibration);

const openness = (sheet: Sheet, clips = [buildClip()], tables = { [CLIP]: table() }) =>
  bestMeasure('stride-foot-openness', measureClips(sheet, clips, tables, 'right'), CLIP)?.measure;

describe('measures of a lesson’s clips', () => {
  it('agree with what is known of the clip', () => {
    const found = openness(whole);
    expect(found?.status).toBe('measured');
    expect(Math.abs(found!.value! - TRUTH.openness(STRIKE))).toBeLessThan(1);
  });

  it('refuse what has no calibration, with the reason, while times need none', () => {
    const measured = measureClips(withPoints(pinned), [buildClip()], { [CLIP]: table() }, 'right');
    expect(bestMeasure('stride-foot-openness', measured, CLIP)?.measure).toMatchObject({
      status: 'refused',
      reason: expect.stringMatching(/corner/),
    });
    expect(bestMeasure('load-to-foot-strike', measured, CLIP)?.measure.status).toBe('measured');
  });

  it('take no calibration of another clip, nor one that starts after foot strike', () => {
    const foreign = putCalibration(withPoints(pinned), { ...calibration, clipId: OTHER });
    expect(openness(foreign)?.status).toBe('refused');
    const late = putCalibration(withPoints(pinned), { ...calibration, fromFrame: STRIKE + 1 });
    expect(openness(late)?.status).toBe('refused');
  });

  it('refuse a point outside the picture', () => {
    const outside = putJoint(whole, {
      clipId: CLIP,
      frame: STRIKE,
      name: 'stride-toe',
      point: { x: 1.2, y: 0.8 },
      isLifted: false,
    });
    expect(openness(outside)).toMatchObject({ status: 'refused', reason: expect.stringMatching(/Outside/) });
  });

  it('say no times without a confirmed capture rate, and still measure the ground', () => {
    const clips = [buildClip({ rateIsSure: false })];
    const measured = measureClips(whole, clips, { [CLIP]: table() }, 'right');
    expect(bestMeasure('load-to-foot-strike', measured, CLIP)?.measure.status).toBe('refused');
    expect(bestMeasure('stride-foot-openness', measured, CLIP)?.measure.status).toBe('measured');
  });

  it('say nothing without the side the hitter bats from, or before the clip is ready', () => {
    expect(measureClips(whole, [buildClip()], { [CLIP]: table() }, null)).toEqual([]);
    expect(measureClips(whole, [buildClip({ state: 'failed' })], { [CLIP]: table() }, 'right')).toEqual([]);
    expect(measureClips(whole, [buildClip()], {}, 'right')).toEqual([]);
  });

  it('choose the clip that says most: measured before refused, the one on the stage among equals', () => {
    const clips = [buildClip({ id: OTHER, position: 1, view: 'behind' }), buildClip()];
    const measured = measureClips(whole, clips, { [CLIP]: table(), [OTHER]: table() }, 'right');
    expect(bestMeasure('stride-foot-openness', measured, OTHER)?.from.clipId).toBe(CLIP);
    expect(bestMeasure('hip-openness', measured, OTHER)?.from.clipId).toBe(OTHER);
  });

  it('are exported as records that the command reads, only of clips that somebody measured', () => {
    const clips = [buildClip(), buildClip({ id: OTHER })];
    const records = recordsOfLesson(whole, clips, { [CLIP]: table(), [OTHER]: table() }, 'right');
    expect(records).toHaveLength(1);
    expect(parseRecords(JSON.stringify(records), 'lesson')).toEqual(records);
  });
});
