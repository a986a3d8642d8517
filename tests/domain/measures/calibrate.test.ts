import { describe, expect, it } from 'vitest';
import { calibrate, CALIBRATION_REFUSALS, type Calibrated } from '@/lib/domain/measures/calibrate';
import { spreadOf } from '@/lib/domain/measures/corner-order';
import { mostChiSquare, Z } from '@/lib/domain/measures/chi-square';
import { focalBelief, focalFromEquivalent } from '@/lib/domain/measures/lens';
import { measuresOf, type MeasureInput } from '@/lib/domain/measures/measure';
import { GROUND_NAMES, type GroundName } from '@/lib/domain/measures/names';
import { chanceOf } from '../../support/measures/filming';
import { PLATE } from '../../support/measures/seen-swing';
import { seeded } from '../../support/swing/scene/random';
import { buildInput, filmingFrom } from './build-input';

const refusal = (input: MeasureInput) => {
  const calibrated = calibrate(input);
  if (calibrated.ok) throw new Error('It was not refused.');
  expect(CALIBRATION_REFUSALS).toContain(calibrated.reason);
  expect(calibrated.sentence).toMatch(/^[A-Z0-9].*\.$/);
  return calibrated;
};
const found = (calibrated: Calibrated) => {
  if (!calibrated.ok) throw new Error(calibrated.sentence);
  return calibrated;
};
const moveCorner = (input: MeasureInput, at: GroundName, dx: number, dy: number): MeasureInput => ({
  ...input,
  ground: input.ground.map((corner) =>
    corner.at === at ? { ...corner, x: corner.x + dx, y: corner.y + dy } : corner,
  ),
});
const exchange = (input: MeasureInput, a: GroundName, b: GroundName): MeasureInput => ({
  ...input,
  ground: input.ground.map((corner) => ({
    ...corner,
    at: corner.at === a ? b : corner.at === b ? a : corner.at,
  })),
});

describe('a calibration is refused', () => {
  it('with fewer than four corners, and says how many there are', () => {
    const of = (count: number) => refusal(buildInput({ corners: PLATE.slice(0, count) }));
    expect(of(3)).toMatchObject({ reason: 'too-few', sentence: expect.stringContaining('3 are set.') });
    expect(of(1).sentence).toContain('one is set.');
    expect(of(0).sentence).toContain('none is set.');
    expect(calibrate(buildInput({ corners: PLATE.slice(0, 4) })).ok).toBe(true);
  });

  it('with too few corners inside the picture, and says so', () => {
    const input = buildInput({ corners: PLATE });
    const out = moveCorner(moveCorner(input, 'plate-apex', -4000, 0), 'plate-side-third', 0, 4000);
    expect(refusal(out)).toMatchObject({
      reason: 'too-few',
      sentence: expect.stringContaining('3 are set inside the picture'),
    });
  });

  it('with a corner given twice in place of a fourth', () => {
    const input = buildInput({ corners: PLATE.slice(0, 3) });
    expect(refusal({ ...input, ground: [...input.ground, input.ground[0]!] }).reason).toBe('too-few');
  });

  it('with corners in one line', () => {
    const input = buildInput({ corners: PLATE });
    const flat = {
      ...input,
      ground: input.ground.map((corner, i) => ({ ...corner, x: 300 + 90 * i, y: 500 + 20 * i })),
    };
    expect(refusal(flat).reason).toBe('in-line');
    // As from a phone on the ground.
    expect(refusal({ ...input, ground: input.ground.map((corner) => ({ ...corner, y: 500 })) }).reason).toBe(
      'in-line',
    );
  });

  it('with a mirrored order', () => {
    const input = buildInput({ corners: PLATE });
    const mirrored = { ...input, ground: input.ground.map((corner) => ({ ...corner, x: 1920 - corner.x })) };
    expect(refusal(mirrored).reason).toBe('mirrored');
    const named = exchange(
      exchange(input, 'plate-side-third', 'plate-side-first'),
      'plate-front-third',
      'plate-front-first',
    );
    expect(refusal(named).reason).toBe('mirrored');
  });

  it('with two corners mixed up', () => {
    const input = buildInput();
    expect(refusal(exchange(input, 'plate-front-third', 'plate-front-first')).reason).toBe('crossed');
    expect(refusal(exchange(input, 'box-inner-front', 'box-outer-rear')).reason).toBe('crossed');
  });

  it('with the box of the other hand', () => {
    expect(refusal({ ...buildInput(), bats: 'left' }).reason).toBe('crossed');
  });

  it('with a corner beside its place, which is named', () => {
    const off = refusal(moveCorner(buildInput(), 'box-outer-front', 14, -12));
    expect(off).toMatchObject({ reason: 'residual', worst: 'box-outer-front' });
    expect(off.sentence).toContain('the box’s front corner away from the plate');
  });

  it('with the corners of another field type', () => {
    expect(refusal({ ...buildInput(), field: 'softball' }).reason).toBe('residual');
  });

  it('when no person could have filmed from there', () => {
    const filming = filmingFrom(0, { position: [0, -180, 40], target: [0, 0, 0], fieldOfView: 1 });
    const far = buildInput({ filming, clickSd: 0.5 });
    const focal = 960 / Math.tan(Math.PI / 360);
    expect(refusal({ ...far, focal }).reason).toBe('impossible');
  });

  it('and then refuses every measure in space with its sentence', () => {
    const input = buildInput({ corners: PLATE.slice(0, 3) });
    const { sentence } = refusal(input);
    const { measures } = measuresOf(input);
    expect(measures).toHaveLength(11);
    for (const { status, value, interval, reason } of measures) {
      expect({ status, value, interval }).toEqual({ status: 'refused', value: null, interval: null });
      expect(reason).toMatch(/\.$/);
    }
    expect(measures.find(({ name }) => name === 'stride-length')!.reason).toBe(sentence);
  });
});

describe('a calibration', () => {
  it('leaves out corners outside the picture and goes on with the others', () => {
    const input = moveCorner(buildInput(), 'box-outer-rear', -5000, 0);
    const { leftOut, corners } = found(calibrate(input));
    expect(leftOut).toEqual(['box-outer-rear']);
    expect(corners).toHaveLength(8);
  });

  it('names the worst corner and how far each is off, in pixels', () => {
    const input = moveCorner(buildInput({ clickSd: 2 }), 'plate-front-third', 6, -4);
    const { worst, corners, rms } = found(calibrate(input));
    expect(worst).toBe('plate-front-third');
    const residuals = corners.map(({ residual }) => residual);
    expect(Math.max(...residuals)).toBe(corners.find(({ at }) => at === worst)!.residual);
    expect(Math.max(...residuals)).toBeGreaterThan(2);
    expect(Math.max(...residuals)).toBeLessThan(7.3);
    const square = residuals.reduce((sum, r) => sum + r * r, 0) / residuals.length;
    expect(rms).toBeCloseTo(Math.sqrt(square), 9);
  });

  it('is less sure where the corners fit worse than their scatter explains', () => {
    const sd = (input: MeasureInput) => Math.sqrt(found(calibrate(input)).fit.covariance[0]![0]!);
    const input = buildInput();
    const off = (by: number) => sd(moveCorner(input, 'box-outer-front', by, -by)) / sd(input);
    expect(off(1)).toBeLessThan(1.1);
    expect(off(10)).toBeGreaterThan(1.4);
  });

  it('takes the focal length of the file before the usual one, and neither where the clip was zoomed', () => {
    const frame = { width: 1080, height: 1920 };
    expect(focalBelief(frame, { focal: 1500 })).toEqual({ focal: 1500, logSd: 0.05 });
    const usual = focalBelief(frame, {});
    expect(usual.focal).toBeCloseTo(960 / Math.tan((31 * Math.PI) / 180), 6);
    expect(usual.logSd).toBe(0.15);
    expect(focalBelief(frame, { isZoomed: false })).toEqual(usual);
    expect(focalBelief(frame, { isZoomed: true }).logSd).toBeGreaterThan(3 * usual.logSd);
    // 26 mm of a 43.27 mm diagonal.
    expect(focalFromEquivalent(26, frame)).toBeCloseTo((26 / 43.2666) * Math.hypot(1080, 1920), 1);
  });

  it('finds a zoomed lens better when it is told of it', () => {
    const filming = filmingFrom(5, { distance: 9, fieldOfView: 26 });
    const input = buildInput({ filming, corners: PLATE, clickSd: 0.5 });
    const off = (isZoomed: boolean | null) => {
      const { camera } = found(calibrate({ ...input, isZoomed }));
      return Math.abs(Math.log(camera.focal / (960 / Math.tan((13 * Math.PI) / 180))));
    };
    expect(off(true)).toBeLessThan(0.75 * off(null));
  });

  it('finds the same camera from a small plate whichever way its perspective is read', () => {
    // From far away a flat thing looks almost alike with near and far exchanged.
    const chance = chanceOf(seeded(3));
    for (let i = 0; i < 40; i++) {
      const azimuth = -180 + 9 * i;
      const filming = filmingFrom(azimuth, { distance: 6, fieldOfView: 62 });
      const { camera } = found(calibrate(buildInput({ filming, corners: PLATE, clickSd: 0.5, chance })));
      const off = Math.hypot(...camera.position.map((v, k) => v - filming.position[k]!));
      expect(off, `from ${azimuth}`).toBeLessThan(2.5);
      expect(camera.down[2]).toBeLessThan(-0.8);
    }
  });
});

describe('the pieces', () => {
  it('spread: along and across the longest direction', () => {
    const { along, across } = spreadOf([
      [0, 0],
      [3, 4],
      [6, 8],
      [9, 12],
    ]);
    expect(along).toBeCloseTo(Math.sqrt((5 * 5 * (2.25 + 0.25)) / 2), 9);
    expect(across).toBeCloseTo(0, 6);
  });

  // Chi-square tables (Abramowitz and Stegun, 26.8), from memory: 99th percentiles 11.345, 18.475, 23.209.
  it.each([
    [3, 11.345],
    [7, 18.475],
    [10, 23.209],
  ])('with %d degrees of freedom chance leaves up to %d', (freedom, most) => {
    expect(Math.abs(mostChiSquare(freedom, Z.usual) - most)).toBeLessThan(0.15);
  });

  it('keeps the names of corners in step with the record', () => {
    expect(GROUND_NAMES).toHaveLength(9);
  });
});
