import { clampPoint } from '@/lib/domain/marks/reshape';
import type { FramePoint, Mark } from '@/lib/domain/marks/mark';
import { toScreen } from '../../canvas/viewport';
import type { MarkBase, Tool, ToolHost, ToolId, Touched } from './tool';

/** A press that moved less than this sets a point; one that moved more draws from there to where it is lifted. */
const SLOP = { mouse: 4, pen: 6, touch: 10 } as const;

/**
 * A tool that makes a mark from a number of points: by dragging, by single taps, by keys, or any mixture. `build`
 * makes the mark from the points so far (at least two, or all of them), null while they are too few.
 */
export const createPlacingTool = (plan: {
  id: ToolId;
  pointCount: number;
  build: (base: MarkBase, points: readonly FramePoint[]) => Mark | null;
  /** The points of a mark made by one tap, for tools where one place says enough. */
  fromTap?: (point: FramePoint) => FramePoint[];
}): Tool => {
  let base: MarkBase | null = null;
  let fixed: FramePoint[] = [];
  let pressed: { place: Touched['place']; isFirst: boolean } | null = null;

  const reset = () => {
    base = null;
    fixed = [];
    pressed = null;
  };
  const show = (host: ToolHost, points: readonly FramePoint[]): Mark | null => {
    const mark = base && plan.build(base, points.map(clampPoint));
    if (mark) host.put(mark);
    else if (base) host.remove([base.id]);
    return mark;
  };
  const add = (host: ToolHost, point: FramePoint) => {
    base ??= host.newBase();
    fixed = [...fixed, point];
    show(host, fixed);
    if (fixed.length < plan.pointCount) return 'more' as const;
    reset();
    return 'done' as const;
  };
  const isEmpty = (host: ToolHost, from: FramePoint, to: FramePoint, slop: number) => {
    const [a, b] = [toScreen(host.viewport, from), toScreen(host.viewport, to)];
    return Math.hypot(a.left - b.left, a.top - b.top) < slop;
  };

  return {
    id: plan.id,
    get points() {
      return fixed;
    },
    press: (host, at) => {
      pressed = { place: at.place, isFirst: fixed.length === 0 };
      base ??= host.newBase();
      if (pressed.isFirst) fixed = [at.point];
      else show(host, [...fixed, at.point]);
    },
    drag: (host, at) => {
      const last = at.at(-1);
      if (last && pressed) show(host, [...fixed, last.point]);
    },
    lift: (host, at) => {
      if (!pressed) return 'more';
      const hasMoved =
        Math.hypot(at.place.left - pressed.place.left, at.place.top - pressed.place.top) > SLOP[at.kind];
      const { isFirst } = pressed;
      pressed = null;
      const last = fixed.at(-1);
      if (isFirst && !hasMoved) {
        if (!plan.fromTap || !last) {
          show(host, fixed);
          return plan.pointCount === 1 ? (reset(), 'done') : 'more';
        }
        show(host, plan.fromTap(last));
        reset();
        return 'done';
      }
      // Two taps on one spot are one point said twice: a mark without length would be lost from sight.
      if (!isFirst && last && isEmpty(host, last, at.point, SLOP[at.kind])) {
        show(host, fixed);
        return 'more';
      }
      return add(host, at.point);
    },
    hover: (host, at) => {
      if (fixed.length > 0 && !pressed) show(host, [...fixed, at.point]);
    },
    bailPress: (host) => {
      const wasFirst = pressed?.isFirst ?? false;
      pressed = null;
      if (wasFirst) {
        reset();
        return false;
      }
      show(host, fixed);
      return fixed.length > 0;
    },
    reset,
    setPoint: (host, point) => {
      const last = fixed.at(-1);
      return last && isEmpty(host, last, point, 1) ? 'more' : add(host, point);
    },
  };
};
