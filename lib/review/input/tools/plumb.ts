import { createPlacingTool } from './placing';
import type { Tool } from './tool';

/** How far down a plumb line hangs that was set with one tap: a fraction of the picture's height, head to belt and more. */
const HANG = 0.4;

/** A vertical of the picture through the first point; one tap hangs it down from there. */
export const createPlumbTool = (): Tool =>
  createPlacingTool({
    id: 'plumb',
    pointCount: 2,
    build: (base, [top, bottom]) =>
      top && bottom ? { ...base, kind: 'plumb', points: [top, { x: top.x, y: bottom.y }] } : null,
    fromTap: (point) => [point, { x: point.x, y: Math.max(point.y + 0.05, Math.min(1, point.y + HANG)) }],
  });
