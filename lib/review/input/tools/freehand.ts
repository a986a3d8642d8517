import { getStrokePoints } from 'perfect-freehand';
import { thinPath, toPixel, type Pixel } from '@/lib/domain/marks/geometry';
import { clampPoint } from '@/lib/domain/marks/reshape';
import type { FramePoint, Mark } from '@/lib/domain/marks/mark';
import { toScreen } from '../../canvas/viewport';
import type { MarkBase, Tool, ToolHost } from './tool';

/** As many points as a stored stroke may have. */
const MOST_POINTS = 2000;
/** While it is drawn a stroke longer than this is thinned on the way, so that it never lags behind the pen. */
const THIN_EVERY = 600;

/** A stroke as the hand draws it, smoothed and thinned. By keys: points joined by straight lines, one set twice ends it. */
export const createFreehandTool = (): Tool => {
  let base: MarkBase | null = null;
  let raw: FramePoint[] = [];
  let isByKeys = false;

  const reset = () => {
    base = null;
    raw = [];
    isByKeys = false;
  };
  const strokeOf = (host: ToolHost): Mark | null => {
    const [first] = raw;
    if (!base || !first) return null;
    const points = isByKeys ? raw : smooth(raw, host);
    return { ...base, kind: 'freehand', points: points.map(clampPoint) };
  };
  const show = (host: ToolHost) => {
    const mark = strokeOf(host);
    if (mark) host.put(mark);
  };

  return {
    id: 'freehand',
    get points() {
      return isByKeys ? raw : [];
    },
    press: (host, at) => {
      base = host.newBase();
      isByKeys = false;
      raw = [at.point];
      show(host);
    },
    drag: (host, at) => {
      if (!base) return;
      raw.push(...at.map((a) => a.point));
      if (raw.length > THIN_EVERY && raw.length % THIN_EVERY < at.length) raw = thin(raw, host, 0.3);
      show(host);
    },
    lift: (host, at) => {
      if (!base) return 'more';
      raw.push(at.point);
      show(host);
      reset();
      return 'done';
    },
    hover: () => undefined,
    bailPress: () => {
      reset();
      return false;
    },
    reset,
    setPoint: (host, point) => {
      base ??= host.newBase();
      isByKeys = true;
      const last = raw.at(-1);
      const [from, to] = [last && toScreen(host.viewport, last), toScreen(host.viewport, point)];
      if (from && Math.hypot(from.left - to.left, from.top - to.top) < 1) {
        reset();
        return 'done';
      }
      raw.push(point);
      show(host);
      return 'more';
    },
  };
};

/** Takes the tremble out and leaves out points that change nothing at the zoom it was drawn at. */
const smooth = (path: readonly FramePoint[], host: ToolHost): FramePoint[] => {
  const pixels = path.map((p) => [...toPixel(p, host.viewport.picture)]);
  const calm = getStrokePoints(pixels, { size: 4 / host.viewport.scale, streamline: 0.35, last: true });
  // The library answers two points for a dot; one is what we store.
  const points =
    calm.length > 0
      ? calm.map((p): Pixel => [p.point[0], p.point[1]])
      : pixels.map((p): Pixel => [p[0] ?? 0, p[1] ?? 0]);
  return thinPixels(points, host, 0.5);
};

const thin = (path: readonly FramePoint[], host: ToolHost, tolerance: number): FramePoint[] =>
  thinPixels(
    path.map((p) => toPixel(p, host.viewport.picture)),
    host,
    tolerance,
  );

const thinPixels = (path: readonly Pixel[], host: ToolHost, tolerance: number): FramePoint[] => {
  const { picture, scale } = host.viewport;
  return thinPath(path, tolerance / scale, MOST_POINTS).map(([x, y]) => ({
    x: x / picture.width,
    y: y / picture.height,
  }));
};
