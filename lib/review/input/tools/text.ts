import { hitMark } from '../../canvas/hit-test';
import type { Tool } from './tool';

/** Words on the picture: a tap asks for them, a tap on words asks to change them. */
export const createTextTool = (): Tool => {
  let isPressed = false;
  return {
    id: 'text',
    points: [],
    press: () => {
      isPressed = true;
    },
    drag: () => undefined,
    lift: (host, at) => {
      if (!isPressed) return 'more';
      isPressed = false;
      const hit = hitMark(
        host.marks.filter((m) => m.kind === 'text'),
        at.place,
        host.viewport,
        at.kind,
      );
      host.askWords(hit?.points[0] ?? at.point, hit?.kind === 'text' ? hit : null);
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
    setPoint: (host, point) => {
      host.askWords(point, null);
      return 'done';
    },
  };
};
