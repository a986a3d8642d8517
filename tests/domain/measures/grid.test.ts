import { describe, expect, it } from 'vitest';
import { calibrate } from '@/lib/domain/measures/calibrate';
import {
  groundHomography,
  onGround,
  onPlaneAlong,
  project,
  seenFrom,
  type Camera,
} from '@/lib/domain/measures/camera';
import { groundGrid } from '@/lib/domain/measures/grid';
import { FIELDS } from '@/lib/domain/measures/names';
import { DEG, norm, sub, turned, wrapDegrees, type Vec3 } from '@/lib/domain/measures/vector';
import { buildInput, filmingFrom } from './build-input';

const cameraFrom = (azimuth: number, distance?: number): Camera => {
  const filming = filmingFrom(azimuth, distance === undefined ? {} : { distance });
  const calibrated = calibrate(buildInput({ filming, clickSd: 0 }));
  if (!calibrated.ok) throw new Error(calibrated.sentence);
  return calibrated.camera;
};

describe('the ground as a camera sees it', () => {
  it('draws plate and box through their clicked corners', () => {
    const camera = cameraFrom(10);
    const lines = groundGrid(camera, 'baseball', 'right');
    const input = buildInput({ filming: filmingFrom(10) });
    for (const kind of ['plate', 'box'] as const) {
      const own = lines.filter((line) => line.kind === kind);
      const corners = input.ground.filter(({ at }) => at.startsWith(kind));
      expect(own).toHaveLength(corners.length);
      own.forEach(({ points }, i) => {
        expect(points).toHaveLength(2);
        expect(points[0]!.x * 1920).toBeCloseTo(corners[i]!.x, 3);
        expect(points[0]!.y * 1080).toBeCloseTo(corners[i]!.y, 3);
        expect(points[1]).toEqual(own[(i + 1) % own.length]!.points[0]);
      });
    }
  });

  it('draws lines that lie on the ground, every half metre', () => {
    const camera = cameraFrom(0);
    const grid = groundGrid(camera, 'baseball', 'right').filter(({ kind }) => kind === 'grid');
    expect(grid).toHaveLength(18);
    for (const { points } of grid) {
      const [a, b] = points.map(({ x, y }) => onGround(camera, [x * 1920, y * 1080])!);
      const onLine = (axis: 0 | 1) =>
        Math.abs(a![axis] - b![axis]) < 1e-6 && Math.abs((2 * a![axis]) % 1) < 1e-6;
      const near = (axis: 0 | 1) => Math.abs(2 * a![axis] - Math.round(2 * a![axis])) < 1e-4;
      expect(onLine(0) || onLine(1) || near(0) || near(1)).toBe(true);
    }
  });

  it('cuts off what is behind the camera', () => {
    // From between the boxes, a metre behind the plate.
    const camera: Camera = {
      width: 1920,
      height: 1080,
      focal: 1600,
      position: [-1, 0, 1.2],
      right: [0, -1, 0],
      down: [-0.3, 0, -Math.sqrt(1 - 0.09)],
      forward: [Math.sqrt(1 - 0.09), 0, -0.3],
    };
    const lines = groundGrid(camera, 'baseball', 'right');
    expect(lines.length).toBeGreaterThan(10);
    for (const field of FIELDS) expect(groundGrid(camera, field, 'left').length).toBeGreaterThan(10);
    for (const { points } of lines) {
      for (const { x, y } of points) {
        const ground = onGround(camera, [x * 1920, y * 1080])!;
        expect(seenFrom(camera, ground)[2]).toBeGreaterThan(0.19);
        expect(ground[0]).toBeLessThan(2.6);
      }
    }
  });

  it('draws nothing of a ground that it looks away from', () => {
    const away = { ...cameraFrom(0) };
    const turnedAway = {
      ...away,
      forward: away.forward.map((v) => -v) as unknown as Vec3,
      right: away.right.map((v) => -v) as unknown as Vec3,
    };
    expect(groundGrid(turnedAway, 'baseball', 'right')).toEqual([]);
  });
});

describe('a camera', () => {
  const camera = cameraFrom(25);
  it('takes a point to a pixel and back, on the ground, above it and in a plane', () => {
    const place: Vec3 = [0.3, 0.8, 0];
    expect(norm(sub(onGround(camera, project(camera, place)!)!, place))).toBeLessThan(1e-9);
    const high: Vec3 = [0.3, 0.8, 0.4];
    expect(norm(sub(onGround(camera, project(camera, high)!, 0.4)!, high))).toBeLessThan(1e-9);
    expect(norm(sub(onPlaneAlong(camera, project(camera, high)!, 0.8)!, high))).toBeLessThan(1e-9);
  });

  it('sees nothing behind itself, and no ground above the horizon', () => {
    expect(project(camera, [0, -50, 1])).toBeNull();
    expect(onGround(camera, [960, 0])).toBeNull();
    expect(onPlaneAlong(camera, [960, 540], -50)).toBeNull();
  });

  it('has a homography that takes the ground to the same pixels', () => {
    const h = groundHomography(camera);
    const [x, y] = [0.4, 0.7];
    const [u, v, w] = [0, 3, 6].map((i) => h[i]! * x + h[i + 1]! * y + h[i + 2]!);
    const seen = project(camera, [x, y, 0])!;
    expect(u! / w!).toBeCloseTo(seen[0], 6);
    expect(v! / w!).toBeCloseTo(seen[1], 6);
  });
});

describe('vectors', () => {
  it('turn the right-handed way', () => {
    const [x, y, z] = turned([1, 0, 0], [0, 0, 90 * DEG]);
    expect([x, y, z].map((v) => Math.round(v * 1e9) / 1e9)).toEqual([0, 1, 0]);
    expect(turned([1, 2, 3], [0, 0, 0])).toEqual([1, 2, 3]);
    const [a, b, c] = turned([1, 2, 3], [0.3, -0.2, 0.5]);
    expect(Math.hypot(a, b, c)).toBeCloseTo(Math.hypot(1, 2, 3), 12);
  });

  it('wrap angles into half a turn to each side', () => {
    expect([190, -190, 180, -180, 540, 10].map(wrapDegrees)).toEqual([-170, 170, -180, -180, -180, 10]);
  });
});
