import { hitMark } from '../../canvas/hit-test';
import type { ScreenPoint } from '../../canvas/viewport';
import type { Tool, ToolHost, Touched } from './tool';

/** A sweep is looked at every so many CSS pixels: a quick hand is reported far apart and would jump over thin marks. */
const EVERY = 6;

/** Rubs out every mark that is touched or crossed; one sweep is one entry. */
export const createEraseTool = (): Tool => {
  let last: ScreenPoint | null = null;

  const rub = (host: ToolHost, { place, kind }: Pick<Touched, 'place' | 'kind'>) => {
    const hit = hitMark(host.marks, place, host.viewport, kind);
    if (hit) host.remove([hit.id]);
  };
  const sweep = (host: ToolHost, at: Touched) => {
    if (!last) return;
    const from = last;
    const steps = Math.max(
      1,
      Math.ceil(Math.hypot(at.place.left - from.left, at.place.top - from.top) / EVERY),
    );
    for (let i = 1; i <= steps; i += 1) {
      const part = i / steps;
      const place = {
        left: from.left + (at.place.left - from.left) * part,
        top: from.top + (at.place.top - from.top) * part,
      };
      rub(host, { place, kind: at.kind });
    }
    last = at.place;
  };
  const letGo = () => {
    last = null;
  };

  return {
    id: 'erase',
    points: [],
    press: (host, at) => {
      last = at.place;
      rub(host, at);
    },
    drag: (host, all) => {
      for (const at of all) sweep(host, at);
    },
    lift: (host, at) => {
      sweep(host, at);
      letGo();
      return 'done';
    },
    hover: () => undefined,
    bailPress: () => {
      letGo();
      return false;
    },
    reset: letGo,
    setPoint: null,
  };
};
