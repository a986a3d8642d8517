import type { FramePoint, Mark } from '@/lib/domain/marks/mark';
import { moveMark, reshapeMark } from '@/lib/domain/marks/reshape';
import { hitHandle, hitMark } from '../../canvas/hit-test';
import type { ScreenPoint } from '../../canvas/viewport';
import type { Tool, ToolHost, Touched } from './tool';

type InHand =
  | { readonly is: 'handle'; readonly mark: Mark; readonly index: number; readonly offset: FramePoint }
  | { readonly is: 'mark'; readonly mark: Mark; readonly from: Touched; readonly wasChosen: boolean }
  | { readonly is: 'picture'; readonly from: Touched; readonly last: ScreenPoint };

/** Shorter than this a press is a tap: it chooses, it does not move. */
const SLOP = { mouse: 3, pen: 5, touch: 8 } as const;

/** Chooses a mark, moves it, or reshapes it by a handle. On the bare picture a drag pans and a tap lets go. */
export const createSelectTool = (): Tool => {
  let inHand: InHand | null = null;
  let hasMoved = false;

  const take = (host: ToolHost, at: Touched): InHand => {
    const chosen = host.marks.find((m) => m.id === host.selectedId);
    const handle = chosen && hitHandle(chosen, at.place, host.viewport, at.kind);
    if (chosen && handle) {
      // The handle keeps its distance from the finger, so that it does not jump when it is taken.
      const offset = { x: handle.point.x - at.point.x, y: handle.point.y - at.point.y };
      return { is: 'handle', mark: chosen, index: handle.index, offset };
    }
    const mark = hitMark(host.marks, at.place, host.viewport, at.kind);
    if (!mark) return { is: 'picture', from: at, last: at.place };
    const wasChosen = mark.id === host.selectedId;
    host.select(mark.id);
    return { is: 'mark', mark, from: at, wasChosen };
  };

  return {
    id: 'select',
    points: [],
    press: (host, at) => {
      hasMoved = false;
      inHand = take(host, at);
    },
    drag: (host, all) => {
      const at = all.at(-1);
      if (!at || !inHand) return;
      if (inHand.is === 'handle') {
        const { mark, index, offset } = inHand;
        host.put(reshapeMark(mark, index, { x: at.point.x + offset.x, y: at.point.y + offset.y }));
        return;
      }
      const { from } = inHand;
      hasMoved ||= Math.hypot(at.place.left - from.place.left, at.place.top - from.place.top) > SLOP[at.kind];
      if (!hasMoved) return;
      if (inHand.is === 'mark') {
        host.put(moveMark(inHand.mark, { x: at.point.x - from.point.x, y: at.point.y - from.point.y }));
      } else {
        const { last } = inHand;
        inHand = { ...inHand, last: at.place };
        host.panBy({ left: at.place.left - last.left, top: at.place.top - last.top });
      }
    },
    lift: (host) => {
      if (inHand?.is === 'picture' && !hasMoved) host.select(null);
      if (inHand?.is === 'mark' && !hasMoved && inHand.wasChosen && inHand.mark.kind === 'text') {
        host.askWords(inHand.mark.points[0], inHand.mark);
      }
      inHand = null;
      return 'done';
    },
    hover: () => undefined,
    bailPress: () => {
      inHand = null;
      return false;
    },
    reset: () => {
      inHand = null;
    },
    setPoint: null,
  };
};
