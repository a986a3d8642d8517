import type { FramePoint } from '../marks/mark';
import { project, seenFrom, type Camera } from './camera';
import { BOX_CORNERS, groundPoint, PLATE_CORNERS, type Bats } from './field';
import type { Field, GroundName } from './names';
import { add, scale, sub, type Vec3 } from './vector';

/** A run of points to be joined by straight lines over the picture, as fractions of it. */
export interface GroundLine {
  readonly kind: 'grid' | 'plate' | 'box';
  readonly points: readonly FramePoint[];
}

/** Metres round the plate that the grid covers, and between its lines. */
const REACH = { from: -1.5, to: 2.5, aside: 2 } as const;
const SPACING = 0.5;
/** What is nearer to the camera than this cannot be drawn. */
const NEAREST = 0.2;
/** Fractions of the picture beyond which a line is not followed. */
const FURTHEST = 3;

const range = (from: number, to: number): number[] =>
  Array.from({ length: Math.round((to - from) / SPACING) + 1 }, (_, i) => from + i * SPACING);

// The part of a stretch that lies in front of the camera.
const inFront = (camera: Camera, a: Vec3, b: Vec3): [Vec3, Vec3] | null => {
  const depths = [seenFrom(camera, a)[2], seenFrom(camera, b)[2]] as const;
  if (depths[0] < NEAREST && depths[1] < NEAREST) return null;
  const cut = add(a, scale(sub(b, a), (NEAREST - depths[0]) / (depths[1] - depths[0])));
  return [depths[0] < NEAREST ? cut : a, depths[1] < NEAREST ? cut : b];
};

const drawn = (camera: Camera, kind: GroundLine['kind'], a: Vec3, b: Vec3): GroundLine[] => {
  const ends = inFront(camera, a, b);
  if (!ends) return [];
  const points = ends.map((end) => project(camera, end)).filter((p) => p !== null);
  const fractions = points.map(([x, y]): FramePoint => ({ x: x / camera.width, y: y / camera.height }));
  const isNear = ({ x, y }: FramePoint) => Math.max(Math.abs(x), Math.abs(y)) < FURTHEST;
  return fractions.some(isNear) ? [{ kind, points: fractions }] : [];
};

const outline = (corners: readonly Vec3[]): [Vec3, Vec3][] =>
  corners.flatMap((corner, i): [Vec3, Vec3][] => {
    const next = corners[(i + 1) % corners.length];
    return next ? [[corner, next]] : [];
  });

/**
 * The ground as this camera sees it: a half-metre grid, the plate and the hitter's own box, as stretches in fractions of
 * the picture. Drawn over the frame, a wrong corner is seen at once.
 */
export const groundGrid = (camera: Camera, field: Field, bats: Bats): GroundLine[] => {
  const corners = (names: readonly GroundName[]) => names.map((at) => groundPoint(field, bats, at));
  const { from, to, aside } = REACH;
  return [
    ...range(-aside, aside).flatMap((y) => drawn(camera, 'grid', [from, y, 0], [to, y, 0])),
    ...range(from, to).flatMap((x) => drawn(camera, 'grid', [x, -aside, 0], [x, aside, 0])),
    ...outline(corners(PLATE_CORNERS)).flatMap(([a, b]) => drawn(camera, 'plate', a, b)),
    ...outline(corners(BOX_CORNERS)).flatMap(([a, b]) => drawn(camera, 'box', a, b)),
  ];
};
