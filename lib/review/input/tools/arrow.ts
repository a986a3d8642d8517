import { createPlacingTool } from './placing';
import type { Tool } from './tool';

/** An arrow from its tail, set first, to its head. */
export const createArrowTool = (): Tool =>
  createPlacingTool({
    id: 'arrow',
    pointCount: 2,
    build: (base, [tail, head]) => (tail && head ? { ...base, kind: 'arrow', points: [tail, head] } : null),
  });
