import { describe, expect, it } from 'vitest';
import type { FrameTable } from '@/lib/domain/clips/frame-table';
import { calibrationOf, clipMeasures, CLICK_SD, type SheetPoints } from '@/lib/domain/measures/from-sheet';
import { answerFor, parseRecords, type MeasureRecord } from '@/lib/domain/measures/record';
import type { Pin } from '@/lib/domain/review/sheet';
import { sheetSchema, emptySheet } from '@/lib/domain/review/sheet';
import type { JointName, MeasureName } from '@/lib/domain/measures/names';
import { buildInput } from './build-input';

const CLIP = '0b7c7e0a-93a7-4f4e-9d0a-6b3c1d2e4f50';
const OTHER = '7d3e9a52-1f0b-4c56-8a7e-2b9c4d6e8f01';
const input = buildInput();
const { width, height } = input.frame;
const fraction = ({ x, y }: { x: number; y: number }) => ({ x: x / width, y: y / height });

// Taken at 240 pictures a second, played at 30.
const TABLE: FrameTable = {
  version: 1,
  width,
  height,
  ptsUs: Array.from({ length: 200 }, (_, i) => Math.round((i * 1e6) / 30)),
  fileRate: 30,
  captureRate: 240,
};
const clip = { id: CLIP, table: TABLE, focal: null };

const pin = (checkpoint: Pin['checkpoint'], frame: number, clipId = CLIP): Pin => ({
  checkpoint,
  clipId,
  frame,
  strike: checkpoint === 'foot_strike' ? 'full_plant' : null,
});
const joints = (frame: number, names?: readonly JointName[], lifted: readonly JointName[] = []) =>
  Object.entries(input.points)
    .filter(([name]) => !names || names.includes(name as JointName))
    .map(([name, at]) => ({
      clipId: CLIP,
      frame,
      name: name as JointName,
      point: fraction(at),
      isLifted: lifted.includes(name as JointName),
    }));
const calibration = (fromFrame = 0, clipId = CLIP) => ({
  clipId,
  fromFrame,
  field: input.field,
  ground: input.ground.map((corner) => ({ at: corner.at, point: fraction(corner) })),
  isZoomed: null,
});
const FOOT = ['stride-heel', 'stride-toe'] as const;

const buildSheet = (change: Partial<SheetPoints> = {}): SheetPoints => {
  const sheet = {
    pins: [pin('load', 40), pin('foot_strike', 100), pin('contact', 141)],
    calibrations: [calibration()],
    joints: joints(100),
    ...change,
  };
  expect(sheetSchema.safeParse({ ...emptySheet(), ...sheet }).success).toBe(true);
  return sheet;
};
const measured = (sheet: SheetPoints, table: FrameTable = TABLE) =>
  clipMeasures({ sheet, clip: { ...clip, table }, bats: 'right' });
const of = (result: ReturnType<typeof measured>, name: MeasureName) =>
  result.measures.find((measure) => measure.name === name)!;

describe('the measures of a clip on a sheet', () => {
  it('are computed from its corners, points and pins', () => {
    const result = measured(buildSheet());
    expect(result).toMatchObject({ clipId: CLIP, strikeFrame: 100 });
    expect(of(result, 'stride-foot-openness').value).toBeCloseTo(42, 0);
    for (const name of ['stride-length', 'head-ahead-of-belt', 'shoulder-tilt'] as const)
      expect(of(result, name).status).toBe('measured');
  });

  it('have their times in real milliseconds, also of a slow-motion file', () => {
    expect(of(measured(buildSheet()), 'load-to-foot-strike').value).toBeCloseTo(60 / 0.24, 2);
    expect(of(measured(buildSheet()), 'foot-strike-to-contact').value).toBeCloseTo(41 / 0.24, 2);
    const unsaid = measured(buildSheet(), { ...TABLE, fileRate: null });
    expect(of(unsaid, 'foot-strike-to-contact').value).toBeCloseTo(41 / 0.24, 2);
    const plain = measured(buildSheet(), { ...TABLE, captureRate: 30 });
    expect(of(plain, 'foot-strike-to-contact').value).toBeCloseTo(41 / 0.03, 1);
  });

  it('have no times without a capture rate, and still all else', () => {
    const result = measured(buildSheet(), { ...TABLE, captureRate: null });
    expect(of(result, 'foot-strike-to-contact')).toMatchObject({
      status: 'refused',
      reason: expect.stringContaining('is not known'),
    });
    expect(of(result, 'stride-length').status).toBe('measured');
  });

  it('go into a record from which they come out the same', () => {
    const { record, measures } = measured(buildSheet());
    const read = parseRecords(JSON.stringify(record), 'export') as MeasureRecord;
    expect(answerFor(read).measures).toEqual(measures);
    expect(record.clickSd).toBe(CLICK_SD);
  });

  it('say what is missing', () => {
    expect(of(measured(buildSheet({ calibrations: [] })), 'stride-length').reason).toContain(
      'corners are needed',
    );
    expect(of(measured(buildSheet({ joints: [] })), 'stride-foot-openness').reason).toContain('Set the heel');
    const noPin = measured(buildSheet({ pins: [] }));
    expect(noPin.strikeFrame).toBeNull();
    expect(of(noPin, 'stride-foot-openness').status).toBe('refused');
    expect(of(noPin, 'load-to-foot-strike').reason).toContain('Pin load and foot strike');
    expect(
      of(measured(buildSheet({ pins: [pin('contact', 1000)] })), 'foot-strike-to-contact').reason,
    ).toContain('Pin');
  });

  it('can be asked of another frame than the pin', () => {
    const sheet = buildSheet({ joints: joints(90) });
    expect(clipMeasures({ sheet, clip, bats: 'right', frame: 90 }).strikeFrame).toBe(90);
    expect(of(clipMeasures({ sheet, clip, bats: 'right', frame: 90 }), 'stride-length').status).toBe(
      'measured',
    );
  });

  it('take nothing from another clip', () => {
    const elsewhere = {
      pins: [pin('foot_strike', 100, OTHER)],
      calibrations: [calibration(0, OTHER)],
      joints: joints(100).map((joint) => ({ ...joint, clipId: OTHER })),
    };
    const result = measured(buildSheet(elsewhere));
    expect(result.record).toMatchObject({ ground: [], points: {}, planted: [] });
    expect(result.measures.every(({ status }) => status === 'refused')).toBe(true);
  });

  it('use the calibration that holds on the frame of foot strike', () => {
    const early = { ...calibration(0), field: 'youth' as const };
    const used = (calibrations: SheetPoints['calibrations']) =>
      measured(buildSheet({ calibrations })).record.field;
    expect(used([early, calibration(100)])).toBe('baseball');
    expect(used([calibration(100), early])).toBe('baseball');
    expect(used([early, calibration(101)])).toBe('youth');
  });

  it('average the foot over later frames up to contact on which it is down', () => {
    const later = (frame: number, lifted: readonly JointName[] = []) => joints(frame, FOOT, lifted);
    const count = (...more: ReturnType<typeof joints>[]) =>
      measured(buildSheet({ joints: [...joints(100), ...more.flat()] })).record.planted!;
    expect(count(later(110), later(141)).map((points) => Object.keys(points))).toEqual([
      [...FOOT],
      [...FOOT],
    ]);
    expect(count(later(142), later(99))).toEqual([]);
    expect(count(later(110, ['stride-heel'])).map((points) => Object.keys(points))).toEqual([['stride-toe']]);
    const sheet = buildSheet({ joints: [...joints(100), ...later(150)], pins: [pin('foot_strike', 100)] });
    expect(measured(sheet).record.planted).toHaveLength(1);
  });

  it('keep which points are lifted and what is known of the lens', () => {
    const sheet = buildSheet({
      joints: joints(100, undefined, ['stride-heel']),
      calibrations: [{ ...calibration(), isZoomed: true }],
    });
    const { record } = clipMeasures({ sheet, clip: { ...clip, focal: 1500 }, bats: 'right' });
    expect(record).toMatchObject({ lifted: ['stride-heel'], zoomed: true, focal: 1500, version: 1 });
    expect(of(measured(sheet), 'stride-foot-openness').status).not.toBe('measured');
  });
});

describe('a calibration of a sheet', () => {
  it('gives the camera, or why there is none', () => {
    expect(calibrationOf(calibration(), clip, 'right').ok).toBe(true);
    const few = { ...calibration(), ground: calibration().ground.slice(0, 2) };
    expect(calibrationOf(few, clip, 'right')).toMatchObject({ ok: false, reason: 'too-few' });
  });
});
