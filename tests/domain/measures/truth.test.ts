import { describe, expect, it } from 'vitest';
import { calibrate } from '@/lib/domain/measures/calibrate';
import { GROUND_NAMES } from '@/lib/domain/measures/names';
import { QUANTITIES, type Scene, type SpaceMeasure } from '@/lib/domain/measures/quantities';
import { VIEWS, type View } from '../../support/measures/filming';
import { PLATE, truthOf } from '../../support/measures/seen-swing';
import { buildBody, buildInput, filmingFrom, measureOf } from './build-input';

const NAMES = Object.keys(QUANTITIES) as SpaceMeasure[];

describe('a filmed swing whose every point is known, without scatter', () => {
  const cases = (Object.keys(VIEWS) as View[]).flatMap((view) =>
    (['right', 'left'] as const).flatMap((bats) =>
      [PLATE, GROUND_NAMES].map((corners) => ({ view, bats, corners, count: corners.length })),
    ),
  );

  it.each(cases)('comes out as it is: $view, bats $bats, $count corners', ({ view, bats, corners }) => {
    const body = buildBody(bats, 58);
    const input = buildInput({ view, bats, body, corners, clickSd: 0 });
    const calibrated = calibrate(input);
    if (!calibrated.ok) throw new Error(calibrated.sentence);
    const { camera } = calibrated;
    const scene: Scene = { camera, bats, frames: [input.points], heights: {}, depths: {} };
    const truth = truthOf(body, bats);
    for (const name of NAMES) {
      const shown = measureOf(input, name).value;
      // From in front and behind the plane is seen edge on: refused, and only as good as the arithmetic.
      const tolerance = shown === null ? 1e-4 : 1e-6;
      expect(Math.abs(QUANTITIES[name](scene)! - truth[name]), name).toBeLessThan(tolerance);
      if (shown !== null) expect(shown, name).toBeCloseTo(truth[name], 6);
    }
    expect(measureOf(input, 'stride-foot-openness').value).toBeCloseTo(58, 6);
  });

  it.each(['softball', 'youth'] as const)('comes out as it is in a box for %s', (field) => {
    const input = buildInput({ field, body: buildBody('right', 20), clickSd: 0 });
    expect(measureOf(input, 'stride-foot-openness').value).toBeCloseTo(20, 6);
  });

  it('finds the camera where it stood', () => {
    const filming = filmingFrom(20, { roll: 7, fieldOfView: 53, distance: 5.2 });
    const calibrated = calibrate(buildInput({ filming, clickSd: 0 }));
    if (!calibrated.ok) throw new Error(calibrated.sentence);
    const { camera, facts, corners, rms, leftOut } = calibrated;
    filming.position.forEach((value, i) => expect(camera.position[i]).toBeCloseTo(value, 6));
    expect(camera.focal).toBeCloseTo(960 / Math.tan((26.5 * Math.PI) / 180), 4);
    expect(facts.height).toBeCloseTo(1.4, 6);
    expect(facts.fieldOfView).toBeCloseTo(53, 6);
    expect(facts.roll).toBeCloseTo(7, 6);
    expect(facts.view).toBe('open_side');
    expect(rms).toBeLessThan(1e-4);
    expect(corners.map(({ at }) => at)).toEqual(GROUND_NAMES);
    expect(leftOut).toEqual([]);
  });

  it('says from where the camera looks, from between a box’s corners', () => {
    // The middle of a right-handed hitter's box of 4 by 6 feet lies 8.5 in toward the pitcher and 38.5 in aside.
    const [x, y] = [8.5 * 0.0254, 38.5 * 0.0254];
    const from = (azimuth: number, bats: 'right' | 'left' = 'right') => {
      const a = (azimuth * Math.PI) / 180;
      const filming = filmingFrom(0, { position: [x + 4 * Math.sin(a), y - 4 * Math.cos(a), 1.5] });
      const calibrated = calibrate(buildInput({ filming, bats, clickSd: 0 }));
      if (!calibrated.ok) throw new Error(calibrated.sentence);
      return calibrated.facts;
    };
    for (const [azimuth, view] of [
      [0, 'open_side'],
      [44, 'open_side'],
      [-44, 'open_side'],
      [46, 'front'],
      [134, 'front'],
      [-46, 'behind'],
      [-134, 'behind'],
      [136, 'back'],
      [-136, 'back'],
    ] as const) {
      for (const bats of ['right', 'left'] as const) {
        const facts = from(azimuth, bats);
        expect(facts.azimuth).toBeCloseTo(azimuth, 4);
        expect(facts.view).toBe(view);
        expect(facts.distance).toBeCloseTo(4, 5);
      }
    }
  });
});
