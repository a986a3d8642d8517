import type { FramePoint, Mark } from '@/lib/domain/marks/mark';
import { sayChosen, sayDone } from '../a11y/announce';
import { createLayers } from '../canvas/layers';
import { paintCursor, paintDot, paintHandles, paintMark } from '../canvas/render-mark';
import { bringIntoView, fitViewport, panBy, toScreen, zoomAbout, zoomOf } from '../canvas/viewport';
import { createMarkHistory } from '../marks/history';
import { marksOnFrame } from '../marks/scene';
import { SnapshotStore } from '../player/snapshot-store';
import { createBoardGestures } from './board-gestures';
import { createBoardView } from './board-view';
import { createChalkCommands } from './chalk-commands';
import {
  BOARD_AT_REST,
  type Chalkboard,
  type ChalkboardOptions,
  type ChalkboardSnapshot,
} from './chalkboard-state';
import { listenToKeys } from './keyboard';
import { listenToPointers } from './pointer';
import { createTools } from './tools/all-tools';
import type { Outcome, Tool, ToolHost } from './tools/tool';

/**
 * The chalk over one clip: canvases, pointers, keys, tools and undo behind one snapshot. The owner shows pictures in
 * it, keeps the marks it answers, and disposes of it.
 */
export const createChalkboard = (options: ChalkboardOptions): Chalkboard => {
  const { stage, picture, clipId } = options;
  const history = createMarkHistory(options.marks);
  const tools = createTools();
  let itemId: string | null = null;
  let span = 1;
  let liftedIds = '';
  const sceneListeners = new Set<() => void>();
  const tellScene = () => {
    for (const listener of [...sceneListeners]) listener();
  };

  const store = new SnapshotStore<ChalkboardSnapshot>({
    ...BOARD_AT_REST,
    marksHere: marksOnFrame(history.marks, clipId, 0),
  });
  const state = store.getSnapshot;
  const tool = (): Tool => tools[state().tool];
  const here = () => marksOnFrame(history.marks, clipId, state().frame);
  const shown = () => (state().isChalkShown ? here() : []);
  const chosen = () => here().find((mark) => mark.id === state().selectedId);
  /** Marks that differ from what is settled are painted on the live layer only. */
  const isSettled = (mark: Mark) => history.settled.includes(mark);

  const view = createBoardView(stage, picture, (next) => {
    layers.setViewport(next);
    const { words } = state();
    store.set({
      zoom: zoomOf(next),
      viewport: next,
      words: words && { ...words, place: toScreen(next, words.point) },
    });
    tellScene();
  });
  store.set({ viewport: view.viewport });
  const layers = createLayers(stage, picture, view.viewport, {
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
      zoom: zoomOf(view.viewport),
    });
    const ids = shown()
      .filter(isSettled)
      .map((mark) => mark.id)
      .join();
    if (ids !== liftedIds || !history.isInGesture) layers.touch('marks');
    liftedIds = ids;
    layers.touch('live');
    tellScene();
  };
  const announce = (text: string) =>
    store.set({ announcement: { text, turn: state().announcement.turn + 1 } });
  /** Gives up everything half done; what was taken back stays ready to be brought back. */
  const abandon = () => {
    for (const each of Object.values(tools)) each.reset();
    pointers.drop();
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
      return view.viewport;
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
    panBy: (by) => view.set(panBy(view.viewport, by)),
    askWords: (point, mark) =>
      store.set({
        words: {
          point,
          place: toScreen(view.viewport, point),
          markId: mark?.id ?? null,
          text: mark?.text ?? '',
        },
      }),
  };

  const patch = (next: Partial<ChalkboardSnapshot>) => store.set(next);
  const pointers = createBoardGestures({
    ...{ history, host, view, tools, state, patch, refresh, abandon, settle, select, announce },
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
    patch,
    setPenMode: (isOn) => {
      pointers.gestures.setPenMode(isOn);
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
      const { viewport } = view;
      const about = cursor
        ? toScreen(viewport, cursor)
        : { left: viewport.stage.width / 2, top: viewport.stage.height / 2 };
      view.set(
        factor === null
          ? fitViewport(viewport.stage, picture, viewport.dpr)
          : zoomAbout(viewport, about, factor),
      );
    },
    keepInView: (point: FramePoint) => view.set(bringIntoView(view.viewport, point)),
  });

  const stopPointers = listenToPointers(stage, pointers.gestures, (about, factor) =>
    view.set(zoomAbout(view.viewport, about, factor)),
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
    panBy: (by) => view.set(panBy(view.viewport, by)),
    zoomAbout: (about, factor) => view.set(zoomAbout(view.viewport, about, factor)),
    writeWords: commands.writeWords,
    dropWords: () => store.set({ words: null }),
    look: view.look,
    pointAt: view.pointAt,
    allMarks: () => ({
      all: history.marks,
      inHand: new Set(history.marks.filter((mark) => !isSettled(mark)).map((mark) => mark.id)),
    }),
    onScene: (listener) => {
      sceneListeners.add(listener);
      return () => sceneListeners.delete(listener);
    },
    run: commands.run,
    endNudge: commands.endNudge,
    dispose: () => {
      stopPointers();
      stopKeys();
      view.dispose();
      layers.dispose();
      store.clear();
      sceneListeners.clear();
    },
  };
  const stopKeys = listenToKeys(stage, board);
  return board;
};
