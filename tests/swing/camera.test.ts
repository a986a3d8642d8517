import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { mirroredCamera, project, type Camera } from '../support/swing/camera';
import { monotone, sweep } from '../support/swing/curve';
import { distance, length, type Vec3 } from '../support/swing/vec';

const camera: Camera = { position: [0, -4, 1], target: [0, 0, 1], fieldOfView: 90, width: 1000, height: 500 };

describe('the camera', () => {
  // A right angle across 1000 pixels is a focal length of 500 pixels: 1 m at 4 m is 125 pixels.
  it('puts points where a pinhole would', () => {
    expect(project(camera, [0, 0, 1])).toEqual([500, 250]);
    const [x, y] = project(camera, [1, 0, 2]);
    expect(x).toBeCloseTo(625, 9);
    expect(y).toBeCloseTo(125, 9);
  });

  it('sees the pitcher on the right from the first-base side and on the left from the third-base side', () => {
    const pitcher: Vec3 = [2, 0, 1];
    expect(project(camera, pitcher)[0]).toBeGreaterThan(500);
    expect(project(mirroredCamera(camera), pitcher)[0]).toBeLessThan(500);
  });

  it('sees a mirrored scene mirrored', () => {
    fc.assert(
      fc.property(
        fc.tuple(
          fc.double({ min: -2, max: 2, noNaN: true }),
          fc.double({ min: -2, max: 2, noNaN: true }),
          fc.double({ min: 0, max: 2, noNaN: true }),
        ),
        (p) => {
          const [x, y] = project(camera, p);
          const [mx, my] = project(mirroredCamera(camera), [p[0], -p[1], p[2]]);
          expect(mx).toBeCloseTo(1000 - x, 6);
          expect(my).toBeCloseTo(y, 6);
        },
      ),
    );
  });
});

describe('curves', () => {
  it('go through their keys, never beyond them, and hold their ends', () => {
    const keyed = fc
      .array(
        fc.tuple(fc.double({ min: 0.01, max: 1, noNaN: true }), fc.double({ min: -5, max: 5, noNaN: true })),
        { minLength: 2, maxLength: 8 },
      )
      .map((steps) => {
        let time = 0;
        return steps.map(([step, value]) => [(time += step), value] as const);
      });
    fc.assert(
      fc.property(keyed, fc.double({ min: -1, max: 9, noNaN: true }), (keys, t) => {
        const curve = monotone(keys);
        keys.forEach(([time, value]) => expect(curve(time)).toBeCloseTo(value, 9));
        const after = keys.findIndex(([time]) => time >= t);
        const low = after === -1 ? keys.at(-1)! : keys[Math.max(0, after - 1)]!;
        const high = after === -1 ? keys.at(-1)! : keys[after]!;
        expect(curve(t)).toBeGreaterThanOrEqual(Math.min(low[1], high[1]) - 1e-9);
        expect(curve(t)).toBeLessThanOrEqual(Math.max(low[1], high[1]) + 1e-9);
      }),
    );
  });

  it('sweep through directions of length one without a jump', () => {
    const path = sweep([
      [0, [1, 0, 0]],
      [0.5, [0, 1, 0]],
      [1, [-1, 0.2, 0.4]],
    ]);
    expect(distance(path(0.5), [0, 1, 0])).toBeLessThan(1e-9);
    for (let t = -0.2; t < 1.2; t += 0.01) {
      expect(length(path(t))).toBeCloseTo(1, 9);
      expect(distance(path(t), path(t + 0.01))).toBeLessThan(0.1);
    }
  });
});
