import { createPlacingTool } from './placing';
import type { Tool } from './tool';

/** A ring from its middle, set first, to a point of its edge. */
export const createCircleTool = (): Tool =>
  createPlacingTool({
    id: 'circle',
    pointCount: 2,
    build: (base, [centre, edge]) =>
      centre && edge ? { ...base, kind: 'circle', points: [centre, edge] } : null,
  });
