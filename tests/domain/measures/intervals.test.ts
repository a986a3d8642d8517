import { describe, expect, it } from 'vitest';
import { calibrate } from '@/lib/domain/measures/calibrate';
import type { MeasureInput } from '@/lib/domain/measures/measure';
import { GROUND_NAMES, type MeasureName } from '@/lib/domain/measures/names';
import { QUANTITIES, type Scene } from '@/lib/domain/measures/quantities';
import { sdOf } from '@/lib/domain/measures/uncertainty';
import { PLATE } from '../../support/measures/seen-swing';
import { buildInput, filmingFrom, halfOf, measureOf } from './build-input';

const SHOWN = [
  'stride-foot-openness',
  'stride-length',
  'head-ahead-of-belt',
  'front-knee-past-ankle',
  'trunk-lean',
  'shoulder-tilt',
] as const;

/** The input with one of its clicks moved. */
const moved = (input: MeasureInput, index: number, axis: 'x' | 'y', by: number): MeasureInput => {
  const corners = input.ground.length;
  if (index < corners) {
    return {
      ...input,
      ground: input.ground.map((at, i) => (i === index ? { ...at, [axis]: at[axis] + by } : at)),
    };
  }
  const [name, at] = Object.entries(input.points)[index - corners]!;
  return { ...input, points: { ...input.points, [name]: { ...at, [axis]: at[axis] + by } } };
};

// Across 1920 pixels of the tests' cameras.
const focalAt = (fieldOfView: number) => 960 / Math.tan((fieldOfView * Math.PI) / 360);
const FILE_SD = 0.05;

describe('the interval of a measure', () => {
  // The written-down way: move every click alone, the belief about the lens too, fit the camera anew each time.
  it.each([
    ['side', 4, PLATE],
    ['side', 4, GROUND_NAMES],
    ['back', 176, PLATE],
  ] as const)('is that of refitting the camera to every moved click: %s', (_, azimuth, corners) => {
    const fieldOfView = 58;
    const focal = focalAt(fieldOfView);
    const filming = filmingFrom(azimuth, { fieldOfView });
    const input = { ...buildInput({ filming, corners, clickSd: 0.5 }), focal };
    const clicks = input.ground.length + Object.keys(input.points).length;
    const sceneOf = (of: MeasureInput) => {
      const calibrated = calibrate(of);
      if (!calibrated.ok) throw new Error(calibrated.sentence);
      const { camera, fit } = calibrated;
      const scene: Scene = { camera, bats: 'right', frames: [of.points], heights: {}, depths: {} };
      return { scene, fit };
    };
    const variance = new Map<MeasureName, number>();
    const add = (above: MeasureInput, below: MeasureInput, inSds: number) => {
      const [high, low] = [sceneOf(above).scene, sceneOf(below).scene];
      for (const name of SHOWN) {
        const shift = (QUANTITIES[name](high)! - QUANTITIES[name](low)!) / (2 * inSds);
        variance.set(name, (variance.get(name) ?? 0) + shift ** 2);
      }
    };
    const step = 0.02;
    for (let i = 0; i < clicks; i++) {
      for (const axis of ['x', 'y'] as const)
        add(moved(input, i, axis, step), moved(input, i, axis, -step), step / input.clickSd);
    }
    const by = 0.001;
    add({ ...input, focal: focal * Math.exp(by) }, { ...input, focal: focal * Math.exp(-by) }, by / FILE_SD);
    const { scene, fit } = sceneOf(input);
    for (const name of SHOWN) {
      const sd = sdOf(name, scene, fit, input.clickSd, { heights: {}, depths: {} });
      expect(sd! / Math.sqrt(variance.get(name)!), name).toBeCloseTo(1, 2);
      // What no click tells comes on top.
      expect(halfOf(measureOf(input, name)) / 1.96, name).toBeGreaterThan(sd!);
    }
  });
});
