import { panBy, toFrame, zoomAbout, type ScreenPoint } from '../canvas/viewport';
import type { MarkHistory } from '../marks/history';
import type { BoardView } from './board-view';
import type { ChalkboardSnapshot } from './chalkboard-state';
import { createGestures } from './gestures';
import type { Outcome, Tool, ToolHost, ToolId, Touched } from './tools/tool';

/** The parts of the chalkboard that pointers work on. */
interface Parts {
  history: MarkHistory;
  host: ToolHost;
  view: BoardView;
  tools: Readonly<Record<ToolId, Tool>>;
  state: () => ChalkboardSnapshot;
  patch: (next: Partial<ChalkboardSnapshot>) => void;
  refresh: () => void;
  /** Gives up everything half done. */
  abandon: () => void;
  settle: (outcome: Outcome) => void;
  select: (markId: string | null) => void;
  announce: (text: string) => void;
}

/** What pointers do to the chalkboard: the tool in hand draws, fingers pan and pinch. */
export const createBoardGestures = (parts: Parts) => {
  const { history, host, view, tools, state } = parts;
  let inHand: Tool | null = null;
  let kindInHand: Touched['kind'] = 'mouse';
  let selectedBeforePress: string | null = null;

  const touched = (place: ScreenPoint, kind: Touched['kind']): Touched => ({
    place,
    point: toFrame(view.viewport, place),
    kind,
  });

  const gestures = createGestures({
    press: (place, kind, isEraser) => {
      kindInHand = kind;
      const next = isEraser ? tools.erase : tools[state().tool];
      if (isEraser && state().tool !== 'erase') parts.abandon();
      inHand = next;
      selectedBeforePress = state().selectedId;
      parts.patch({ cursor: null, isChalkShown: true });
      if (!history.isInGesture) history.begin();
      inHand.press(host, touched(place, kind));
      parts.refresh();
    },
    drag: (places) => {
      inHand?.drag(
        host,
        places.map((place) => touched(place, kindInHand)),
      );
      parts.refresh();
    },
    lift: (place) => {
      const outcome = inHand?.lift(host, touched(place, kindInHand));
      inHand = null;
      if (outcome) parts.settle(outcome);
    },
    bail: () => {
      const hasPoints = inHand?.bailPress(host) ?? false;
      inHand = null;
      if (!hasPoints) history.bail();
      parts.select(selectedBeforePress);
      parts.refresh();
    },
    hover: (place) => {
      if (!history.isInGesture || state().cursor) return;
      tools[state().tool].hover(host, touched(place, 'mouse'));
      parts.refresh();
    },
    panBy: (by) => view.set(panBy(view.viewport, by)),
    zoomAbout: (about, factor) => view.set(zoomAbout(view.viewport, about, factor)),
    penSeen: () => {
      parts.patch({ isPenMode: true });
      parts.announce('Pen seen: fingers now move the picture and only the pen draws.');
    },
  });

  return {
    gestures,
    /** The tool in hand is let go without a trace. */
    drop: () => {
      inHand = null;
    },
  };
};
