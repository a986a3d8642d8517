import type { FramePoint, Mark } from '@/lib/domain/marks/mark';
import { sayChosen, sayDone } from '../a11y/announce';
import { createLayers } from '../canvas/layers';
import { paintCursor, paintDot, paintHandles, paintMark } from '../canvas/render-mark';
import {
  bringIntoView,
  fitViewport,
  panBy,
  resizeViewport,
  toFrame,
  toScreen,
  zoomAbout,
  zoomOf,
  type ScreenPoint,
  type Viewport,
} from '../canvas/viewport';
import { createMarkHistory } from '../marks/history';
import { marksOnFrame } from '../marks/scene';
import { SnapshotStore } from '../player/snapshot-store';
import { createChalkCommands } from './chalk-commands';
import type { Chalkboard, ChalkboardOptions, ChalkboardSnapshot } from './chalkboard-state';
import { createGestures } from './gestures';
import { listenToKeys } from './keyboard';
import { listenToPointers } from './pointer';
import { createTools } from './tools/all-tools';
import type { Outcome, Tool, ToolHost, Touched } from './tools/tool';

/**
 * The chalk over one clip: canvases, pointers, keys, tools and undo behind one snapshot. The owner shows pictures in
 * it, keeps the marks it answers, and disposes of it.
 */
export const createChalkboard = (options: ChalkboardOptions): Chalkboard => {
  const { stage, picture, clipId } = options;
  const stageSize = () => ({
    width: Math.max(1, stage.clientWidth),
    height: Math.max(1, stage.clientHeight),
  });
  const history = createMarkHistory(options.marks);
  const tools = createTools();
  let viewport: Viewport = fitViewport(stageSize(), picture, window.devicePixelRatio);
  let itemId: string | null = null;
  let span = 1;
  let inHand: Tool | null = null;
  let selectedBeforePress: string | null = null;
  let liftedIds = '';

  const store = new SnapshotStore<ChalkboardSnapshot>({
    tool: 'select',
    chalk: 'white',
    frame: 0,
    marksHere: marksOnFrame(history.marks, clipId, 0),
    selectedId: null,
    handle: null,
    cursor: null,
    pointsSet: 0,
    words: null,
    isPenMode: false,
    isChalkShown: true,
    canUndo: false,
    canRedo: false,
    zoom: 1,
    viewport,
    announcement: { text: '', turn: 0 },
  });
  const state = store.getSnapshot;
  const tool = (): Tool => tools[state().tool];
  const here = () => marksOnFrame(history.marks, clipId, state().frame);
  const shown = () => (state().isChalkShown ? here() : []);
  const chosen = () => here().find((mark) => mark.id === state().selectedId);
  /** Marks that differ from what is settled are painted on the live layer only. */
  const isSettled = (mark: Mark) => history.settled.includes(mark);

  const layers = createLayers(stage, picture, viewport, {
    marks: (ctx, v) =>
      shown()
        .filter(isSettled)
        .forEach((mark) => paintMark(ctx, mark, v)),
    live: (ctx, v) => {
      for (const mark of shown()) if (!isSettled(mark)) paintMark(ctx, mark, v);
      const { cursor, handle } = state();
      const mark = chosen();
      if (mark && !mark.hidden) paintHandles(ctx, mark, v, handle);
      for (const point of tool().points) paintDot(ctx, v, point);
      if (cursor) paintCursor(ctx, v, cursor);
    },
  });

  /** Brings snapshot and canvases in line with the history; the settled layer only when it looks different. */
  const refresh = () => {
    const marksHere = here();
    const before = state().marksHere;
    const isSameList = before.length === marksHere.length && before.every((mark, i) => mark === marksHere[i]);
    store.set({
      marksHere: isSameList ? before : marksHere,
      canUndo: history.canUndo,
      canRedo: history.canRedo,
      pointsSet: tool().points.length,
      zoom: zoomOf(viewport),
    });
    const ids = shown()
      .filter(isSettled)
      .map((mark) => mark.id)
      .join();
    if (ids !== liftedIds || !history.isInGesture) layers.touch('marks');
    liftedIds = ids;
    layers.touch('live');
  };
  const announce = (text: string) =>
    store.set({ announcement: { text, turn: state().announcement.turn + 1 } });
  const setViewport = (next: Viewport) => {
    viewport = next;
    layers.setViewport(next);
    const { words } = state();
    store.set({
      zoom: zoomOf(next),
      viewport: next,
      words: words && { ...words, place: toScreen(next, words.point) },
    });
  };
  /** Gives up everything half done; what was taken back stays ready to be brought back. */
  const abandon = () => {
    for (const each of Object.values(tools)) each.reset();
    inHand = null;
    history.bail();
  };
  const settle = (outcome: Outcome) => {
    if (outcome === 'done') {
      const before = history.settled;
      if (history.commit()) told(before);
    }
    refresh();
  };
  const told = (before: readonly Mark[]) => {
    const now = history.settled;
    const gone = before.filter((mark) => !now.some((other) => other.id === mark.id));
    const changed = now.filter((mark) => !before.includes(mark));
    const isNew = changed.every((mark) => !before.some((other) => other.id === mark.id));
    announce(
      gone.length > 0
        ? sayDone('Rubbed out', gone, picture)
        : sayDone(isNew ? 'Drawn' : 'Changed', changed, picture),
    );
    options.onMarks(now);
  };
  /** One change as one entry of its own. */
  const change = (next: (marks: readonly Mark[]) => readonly Mark[]) => {
    abandon();
    history.begin();
    history.show(next(history.marks));
    settle('done');
  };
  const put = (mark: Mark) => {
    const at = history.marks.findIndex((other) => other.id === mark.id);
    history.show(at < 0 ? [...history.marks, mark] : history.marks.with(at, mark));
  };
  const select = (markId: string | null) => {
    if (markId === state().selectedId) return;
    store.set({ selectedId: markId, handle: null });
    const mark = chosen();
    if (mark) announce(sayChosen(mark, picture));
    layers.touch('live');
  };

  const host: ToolHost = {
    get viewport() {
      return viewport;
    },
    get marks() {
      return shown();
    },
    get selectedId() {
      return state().selectedId;
    },
    newBase: () => ({
      version: 1,
      id: options.newId(),
      clipId,
      frame: state().frame,
      span,
      chalk: state().chalk,
      itemId,
      hidden: false,
    }),
    put,
    remove: (ids) => history.show(history.marks.filter((mark) => !ids.includes(mark.id))),
    select,
    panBy: (by) => setViewport(panBy(viewport, by)),
    askWords: (point, mark) =>
      store.set({
        words: { point, place: toScreen(viewport, point), markId: mark?.id ?? null, text: mark?.text ?? '' },
      }),
  };

  const touched = (place: ScreenPoint, kind: Touched['kind']): Touched => ({
    place,
    point: toFrame(viewport, place),
    kind,
  });
  let kindInHand: Touched['kind'] = 'mouse';
  const gestures = createGestures({
    press: (place, kind, isEraser) => {
      kindInHand = kind;
      const next = isEraser ? tools.erase : tool();
      if (isEraser && state().tool !== 'erase') abandon();
      inHand = next;
      selectedBeforePress = state().selectedId;
      store.set({ cursor: null, isChalkShown: true });
      if (!history.isInGesture) history.begin();
      inHand.press(host, touched(place, kind));
      refresh();
    },
    drag: (places) => {
      inHand?.drag(
        host,
        places.map((place) => touched(place, kindInHand)),
      );
      refresh();
    },
    lift: (place) => {
      const outcome = inHand?.lift(host, touched(place, kindInHand));
      inHand = null;
      if (outcome) settle(outcome);
    },
    bail: () => {
      const hasPoints = inHand?.bailPress(host) ?? false;
      inHand = null;
      if (!hasPoints) history.bail();
      select(selectedBeforePress);
      refresh();
    },
    hover: (place) => {
      if (!history.isInGesture || state().cursor) return;
      tool().hover(host, touched(place, 'mouse'));
      refresh();
    },
    panBy: (by) => setViewport(panBy(viewport, by)),
    zoomAbout: (about, factor) => setViewport(zoomAbout(viewport, about, factor)),
    penSeen: () => {
      store.set({ isPenMode: true });
      announce('Pen seen: fingers now move the picture and only the pen draws.');
    },
  });

  const commands = createChalkCommands({
    history,
    host,
    picture,
    state,
    tool,
    chosen,
    refresh,
    abandon,
    settle,
    change,
    select,
    announce,
    patch: (next) => store.set(next),
    setPenMode: (isOn) => {
      gestures.setPenMode(isOn);
      store.set({ isPenMode: isOn });
      announce(isOn ? 'Only the pen draws; fingers move the picture.' : 'Fingers draw too.');
    },
    afterTravel: (marks) => {
      options.onMarks(history.settled);
      const first = marks[0];
      if (
        first &&
        !marks.some((mark) => here().includes(mark)) &&
        (first.clipId !== clipId || first.frame !== state().frame)
      ) {
        options.onGoTo(first.clipId, first.frame);
      }
    },
    zoom: (factor) => {
      const { cursor } = state();
      const about = cursor
        ? toScreen(viewport, cursor)
        : { left: viewport.stage.width / 2, top: viewport.stage.height / 2 };
      setViewport(
        factor === null
          ? fitViewport(viewport.stage, picture, viewport.dpr)
          : zoomAbout(viewport, about, factor),
      );
    },
    keepInView: (point: FramePoint) => setViewport(bringIntoView(viewport, point)),
  });

  const resized = new ResizeObserver(() =>
    setViewport(resizeViewport(viewport, stageSize(), Math.min(2, Math.max(1, window.devicePixelRatio)))),
  );
  resized.observe(stage);
  const stopPointers = listenToPointers(stage, gestures, (about, factor) =>
    setViewport(zoomAbout(viewport, about, factor)),
  );

  const board: Chalkboard = {
    getSnapshot: store.getSnapshot,
    subscribe: store.subscribe,
    showPicture: (source, frame) => {
      layers.showPicture(source);
      if (frame === state().frame) return;
      abandon();
      store.set({ frame, words: null });
      if (!chosen()) store.set({ selectedId: null, handle: null });
      refresh();
    },
    adoptMarks: (marks) => {
      abandon();
      history.adopt(marks);
      if (!chosen()) store.set({ selectedId: null, handle: null });
      refresh();
    },
    setItem: (next) => {
      itemId = next;
    },
    setSpan: (frames) => {
      span = Math.min(600, Math.max(1, Math.round(frames)));
    },
    select,
    setHidden: (markId, hidden) =>
      change((marks) => marks.map((mark) => (mark.id === markId ? { ...mark, hidden } : mark))),
    remove: (markId) => {
      change((marks) => marks.filter((mark) => mark.id !== markId));
      if (state().selectedId === markId) store.set({ selectedId: null, handle: null });
    },
    panBy: (by) => setViewport(panBy(viewport, by)),
    zoomAbout: (about, factor) => setViewport(zoomAbout(viewport, about, factor)),
    writeWords: commands.writeWords,
    dropWords: () => store.set({ words: null }),
    run: commands.run,
    endNudge: commands.endNudge,
    dispose: () => {
      stopPointers();
      stopKeys();
      resized.disconnect();
      layers.dispose();
      store.clear();
    },
  };
  const stopKeys = listenToKeys(stage, board);
  return board;
};
