import { createPlacingTool } from './placing';
import type { Tool } from './tool';

/** A straight line between two points. */
export const createLineTool = (): Tool =>
  createPlacingTool({
    id: 'line',
    pointCount: 2,
    build: (base, [a, b]) => (a && b ? { ...base, kind: 'line', points: [a, b] } : null),
  });
