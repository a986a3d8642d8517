import { hitMark } from '../../canvas/hit-test';
import type { Tool, ToolHost, Touched } from './tool';

/** Rubs out every mark that is touched or crossed; one sweep is one entry. */
export const createEraseTool = (): Tool => {
  let isPressed = false;
  const rub = (host: ToolHost, at: readonly Touched[]) => {
    for (const { place, kind } of at) {
      const hit = hitMark(host.marks, place, host.viewport, kind);
      if (hit) host.remove([hit.id]);
    }
  };
  return {
    id: 'erase',
    points: [],
    press: (host, at) => {
      isPressed = true;
      rub(host, [at]);
    },
    drag: (host, at) => {
      if (isPressed) rub(host, at);
    },
    lift: () => {
      isPressed = false;
      return 'done';
    },
    hover: () => undefined,
    bailPress: () => {
      isPressed = false;
      return false;
    },
    reset: () => {
      isPressed = false;
    },
    setPoint: null,
  };
};
