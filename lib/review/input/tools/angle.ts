import { createPlacingTool } from './placing';
import type { Tool } from './tool';

/** An angle on the picture: the end of one arm, the corner, the end of the other arm. With two points it shows one arm. */
export const createAngleTool = (): Tool =>
  createPlacingTool({
    id: 'angle',
    pointCount: 3,
    build: (base, [arm, vertex, other]) =>
      arm && vertex ? { ...base, kind: 'angle', points: [arm, vertex, other ?? vertex] } : null,
  });
