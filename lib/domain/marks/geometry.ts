import type { FramePoint, Mark } from './mark';

/** Width and height of the picture that a mark lies on, in any one unit; rendition pixels unless said otherwise. */
export interface PictureSize {
  readonly width: number;
  readonly height: number;
}

/** A point in picture pixels: x to the right, y down, origin top left. */
export type Pixel = readonly [x: number, y: number];

/** A rectangle in picture pixels. */
export interface Box {
  readonly left: number;
  readonly top: number;
  readonly right: number;
  readonly bottom: number;
}

/** Fractions of the picture to its pixels. */
export const toPixel = (p: FramePoint, size: PictureSize): Pixel => [p.x * size.width, p.y * size.height];

/** Length between two points of the picture, in its pixels. */
export const distance = (a: FramePoint, b: FramePoint, size: PictureSize): number =>
  pixelDistance(toPixel(a, size), toPixel(b, size));

/** Length between two pixels. */
export const pixelDistance = (a: Pixel, b: Pixel): number => Math.hypot(b[0] - a[0], b[1] - a[1]);

/** The point half way. */
export const midpoint = (a: FramePoint, b: FramePoint): FramePoint => ({
  x: (a.x + b.x) / 2,
  y: (a.y + b.y) / 2,
});

/**
 * The angle at `vertex` between the two arms as it appears on the picture, 0 to 180 degrees, with the picture's own
 * proportions taken into account. Null when an arm has no length. This is not the angle in the world.
 */
export const onScreenAngle = (
  arm: FramePoint,
  vertex: FramePoint,
  other: FramePoint,
  size: PictureSize,
): number | null => {
  const v = toPixel(vertex, size);
  const a = toPixel(arm, size);
  const b = toPixel(other, size);
  const ax = a[0] - v[0];
  const ay = a[1] - v[1];
  const bx = b[0] - v[0];
  const by = b[1] - v[1];
  if (Math.hypot(ax, ay) === 0 || Math.hypot(bx, by) === 0) return null;
  // atan2 keeps its precision near 0 and 180 degrees, where the arc cosine loses it.
  return (Math.atan2(Math.abs(ax * by - ay * bx), ax * bx + ay * by) * 180) / Math.PI;
};

/** Distance from a pixel to the stretch between two pixels. */
export const distanceToSegment = (p: Pixel, a: Pixel, b: Pixel): number => {
  const dx = b[0] - a[0];
  const dy = b[1] - a[1];
  const lengthSquared = dx * dx + dy * dy;
  if (lengthSquared === 0) return pixelDistance(p, a);
  const along = Math.min(1, Math.max(0, ((p[0] - a[0]) * dx + (p[1] - a[1]) * dy) / lengthSquared));
  return pixelDistance(p, [a[0] + along * dx, a[1] + along * dy]);
};

/** Distance from a pixel to a run of pixels joined by straight lines; infinite when there are none. */
export const distanceToPath = (p: Pixel, path: readonly Pixel[]): number => {
  const [first, ...rest] = path;
  if (!first) return Infinity;
  let nearest = pixelDistance(p, first);
  let from = first;
  for (const to of rest) {
    nearest = Math.min(nearest, distanceToSegment(p, from, to));
    from = to;
  }
  return nearest;
};

/** Distance in picture pixels from a point to the drawn shape of a mark; to its anchor for a text. */
export const distanceToMark = (mark: Mark, point: FramePoint, size: PictureSize): number => {
  const p = toPixel(point, size);
  if (mark.kind === 'circle') {
    const [centre, edge] = mark.points;
    return Math.abs(pixelDistance(p, toPixel(centre, size)) - distance(centre, edge, size));
  }
  return distanceToPath(
    p,
    mark.points.map((q) => toPixel(q, size)),
  );
};

/** The smallest box around a mark's shape, in picture pixels, without the width of the stroke. */
export const boundsOf = (mark: Mark, size: PictureSize): Box => {
  if (mark.kind === 'circle') {
    const [x, y] = toPixel(mark.points[0], size);
    const radius = distance(mark.points[0], mark.points[1], size);
    return { left: x - radius, top: y - radius, right: x + radius, bottom: y + radius };
  }
  const xs = mark.points.map((p) => p.x * size.width);
  const ys = mark.points.map((p) => p.y * size.height);
  return { left: Math.min(...xs), top: Math.min(...ys), right: Math.max(...xs), bottom: Math.max(...ys) };
};

/**
 * Leaves out the points of a path that lie within `tolerance` pixels of it (Douglas and Peucker, 1973), keeping both
 * ends. Never keeps more than `most`: the tolerance is doubled until the path is short enough.
 */
export const thinPath = (path: readonly Pixel[], tolerance: number, most = Infinity): Pixel[] => {
  // The work grows with the square of a jagged path: a scribble of minutes is sampled first.
  const sampled = sampleEvenly(path, Math.ceil(1.5 * most));
  let kept = thinOnce(sampled, tolerance);
  for (let wider = Math.max(tolerance, 0.01) * 2; kept.length > Math.max(most, 2); wider *= 2) {
    kept = thinOnce(kept, wider);
  }
  return kept;
};

const sampleEvenly = (path: readonly Pixel[], most: number): readonly Pixel[] => {
  if (path.length <= most) return path;
  const stride = (path.length - 1) / (most - 1);
  return Array.from({ length: most }, (_, i) => path[Math.round(i * stride)]).filter((p) => p !== undefined);
};

const thinOnce = (path: readonly Pixel[], tolerance: number): Pixel[] => {
  if (path.length <= 2) return [...path];
  const keep = new Set([0, path.length - 1]);
  // An own stack instead of recursion: a long scribble would otherwise overflow the call stack.
  const stretches: [from: number, to: number][] = [[0, path.length - 1]];
  for (let stretch = stretches.pop(); stretch; stretch = stretches.pop()) {
    const [from, to] = stretch;
    const [a, b] = [path[from], path[to]];
    if (!a || !b) continue;
    let furthest = tolerance;
    let at = -1;
    for (let i = from + 1; i < to; i += 1) {
      const p = path[i];
      const away = p ? distanceToSegment(p, a, b) : 0;
      if (away > furthest) {
        furthest = away;
        at = i;
      }
    }
    if (at < 0) continue;
    keep.add(at);
    stretches.push([from, at], [at, to]);
  }
  return path.filter((_, i) => keep.has(i));
};
