import * as fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { measuresOf, type MeasureInput } from '@/lib/domain/measures/measure';
import { GROUND_NAMES, type GroundName } from '@/lib/domain/measures/names';
import { chanceOf } from '../../support/measures/filming';
import { PLATE } from '../../support/measures/seen-swing';
import { seeded } from '../../support/swing/scene/random';
import { buildBody, buildInput, filmingFrom, withPixels } from './build-input';

// Clicks with scatter: what must not change the answer must not change it for imperfect points either.
const aSwing = fc
  .record({
    azimuth: fc.integer({ min: -180, max: 180 }),
    open: fc.integer({ min: 5, max: 85 }),
    seed: fc.integer({ min: 1, max: 1e6 }),
    hasBox: fc.boolean(),
    distance: fc.integer({ min: 45, max: 60 }),
  })
  .map(({ azimuth, open, seed, hasBox, distance }) =>
    buildInput({
      // Small in the middle of the picture, so that no turn brings a point out of it.
      filming: filmingFrom(azimuth, { distance: distance / 10, fieldOfView: 62, width: 3000, height: 3000 }),
      body: buildBody('right', open, true),
      corners: hasBox ? GROUND_NAMES : PLATE,
      chance: chanceOf(seeded(seed)),
    }),
  );

const sameAs = (input: MeasureInput, changed: MeasureInput) => {
  const [before, after] = [measuresOf(input), measuresOf(changed)];
  expect(after.calibration.ok).toBe(before.calibration.ok);
  before.measures.forEach((measure, i) => {
    const other = after.measures[i]!;
    expect(other.status, measure.name).toBe(measure.status);
    if (measure.value === null) return;
    expect(other.value, measure.name).toBeCloseTo(measure.value, 4);
    expect(other.interval![0], measure.name).toBeCloseTo(measure.interval![0], 3);
    expect(other.interval![1], measure.name).toBeCloseTo(measure.interval![1], 3);
  });
};

const swapped = (at: GroundName): GroundName =>
  (at.endsWith('third') ? at.replace('third', 'first') : at.replace('first', 'third')) as GroundName;

describe('what must not change a measure', () => {
  const runs = { numRuns: 12 };

  it('a mirrored picture of a hitter of the other hand', () => {
    fc.assert(
      fc.property(aSwing, (input) => {
        const flipped = withPixels(input, ({ x, y }) => ({ x: input.frame.width - x, y }));
        sameAs(input, {
          ...flipped,
          bats: 'left',
          ground: flipped.ground.map((corner) => ({ ...corner, at: swapped(corner.at) })),
        });
      }),
      runs,
    );
  });

  it('a picture of another size', () => {
    fc.assert(
      fc.property(aSwing, fc.integer({ min: 3, max: 25 }), (input, tenths) => {
        const k = tenths / 10;
        const { width, height } = input.frame;
        const scaled = withPixels(input, ({ x, y }) => ({ x: k * x, y: k * y }), {
          width: k * width,
          height: k * height,
        });
        sameAs(input, { ...scaled, clickSd: k * input.clickSd });
      }),
      runs,
    );
  });

  it('a phone held askew', () => {
    fc.assert(
      fc.property(aSwing, fc.integer({ min: -40, max: 40 }), (input, degrees) => {
        const turn = (degrees * Math.PI) / 180;
        const [cx, cy] = [input.frame.width / 2, input.frame.height / 2];
        const turned = withPixels(input, ({ x, y }) => ({
          x: cx + (x - cx) * Math.cos(turn) - (y - cy) * Math.sin(turn),
          y: cy + (x - cx) * Math.sin(turn) + (y - cy) * Math.cos(turn),
        }));
        sameAs(input, turned);
      }),
      runs,
    );
  });

  it('a picture turned by its metadata', () => {
    const input = buildInput({ filming: filmingFrom(10, { fieldOfView: 62 }), body: buildBody('right', 50) });
    const { width, height } = input.frame;
    const size = { width: height, height: width };
    sameAs(
      input,
      withPixels(input, ({ x, y }) => ({ x: height - y, y: x }), size),
    );
    sameAs(
      input,
      withPixels(input, ({ x, y }) => ({ x: y, y: width - x }), size),
    );
  });

  it('the order in which corners are set', () => {
    fc.assert(
      fc.property(aSwing, (input) => sameAs(input, { ...input, ground: [...input.ground].reverse() })),
      runs,
    );
  });
});
