import { MARK_NAME } from '@/lib/domain/marks/describe';
import type { PictureSize } from '@/lib/domain/marks/geometry';
import type { Chalk, FramePoint, Mark } from '@/lib/domain/marks/mark';
import { moveMark, reshapeMark } from '@/lib/domain/marks/reshape';
import { sayCursor, sayDone, sayHandle, sayPoint, sayPointSet } from '../a11y/announce';
import { handlesOf } from '../canvas/hit-test';
import { toFrame, toScreen } from '../canvas/viewport';
import { commandOf, type CommandId } from '../commands';
import type { MarkHistory } from '../marks/history';
import type { ChalkboardSnapshot } from './chalkboard-state';
import type { Outcome, Tool, ToolHost, ToolId } from './tools/tool';

/** Longest words on a picture, as `markSchema` takes them. */
const MOST_LETTERS = 80;

/** The parts of the chalkboard that commands work on. */
interface Parts {
  history: MarkHistory;
  host: ToolHost;
  picture: PictureSize;
  state: () => ChalkboardSnapshot;
  patch: (next: Partial<ChalkboardSnapshot>) => void;
  tool: () => Tool;
  chosen: () => Mark | undefined;
  refresh: () => void;
  abandon: () => void;
  settle: (outcome: Outcome) => void;
  change: (next: (marks: readonly Mark[]) => readonly Mark[]) => void;
  select: (markId: string | null) => void;
  announce: (text: string) => void;
  setPenMode: (isOn: boolean) => void;
  afterTravel: (marks: readonly Mark[]) => void;
  /** Zooms by a factor about the cross or the middle; null shows the whole picture. */
  zoom: (factor: number | null) => void;
  keepInView: (point: FramePoint) => void;
}

/** What keys, buttons and menus can do to the chalkboard. */
export const createChalkCommands = (parts: Parts) => {
  const { history, host, picture, state, patch, tool, chosen, announce } = parts;

  const takeTool = (id: ToolId) => {
    parts.abandon();
    const { cursor } = state();
    const isPlacing = cursor !== null && id !== 'select' && id !== 'erase';
    patch({ tool: id, words: null, cursor: isPlacing ? cursor : null });
    if (id !== 'select') parts.select(null);
    announce(`${commandOf(`tool-${id}`).label}.`);
    parts.refresh();
  };

  const takeChalk = (chalk: Chalk) => {
    patch({ chalk });
    const mark = chosen();
    if (mark && mark.chalk !== chalk)
      parts.change((marks) => marks.map((m) => (m.id === mark.id ? { ...m, chalk } : m)));
    else announce(`${chalk[0]?.toUpperCase()}${chalk.slice(1)} chalk.`);
  };

  const travel = (way: 'undo' | 'redo') => {
    // Points of a half-placed mark are taken back first: they are the last thing that was done.
    if (way === 'undo' && tool().points.length > 0) {
      parts.abandon();
      announce('The points are taken back.');
      parts.refresh();
      return;
    }
    parts.abandon();
    const marks = history[way]();
    if (marks.length === 0)
      return announce(way === 'undo' ? 'Nothing to take back.' : 'Nothing to bring back.');
    if (!chosen()) parts.select(null);
    parts.refresh();
    announce(sayDone(way === 'undo' ? 'Taken back' : 'Brought back', marks, picture));
    parts.afterTravel(marks);
  };

  const stepMark = (by: 1 | -1) => {
    const marks = host.marks.filter((mark) => !mark.hidden);
    if (marks.length === 0) return announce('No marks on this frame.');
    const at = marks.findIndex((mark) => mark.id === state().selectedId);
    const next = marks.at(at < 0 ? (by === 1 ? 0 : -1) : (at + by) % marks.length);
    takeTool('select');
    if (next) parts.select(next.id);
  };

  const endNudge = () => {
    if (state().tool === 'select' && history.isInGesture) parts.settle('done');
  };

  /** Moves the cross, the handle in hand or the chosen mark by CSS pixels; false when there is nothing to move. */
  const nudge = (right: number, down: number): boolean => {
    const shift = (p: FramePoint): FramePoint => {
      const at = toScreen(host.viewport, p);
      return toFrame(host.viewport, { left: at.left + right, top: at.top + down });
    };
    const { cursor, handle } = state();
    if (cursor) {
      const moved = shift(cursor);
      const next = { x: Math.min(1, Math.max(0, moved.x)), y: Math.min(1, Math.max(0, moved.y)) };
      patch({ cursor: next });
      parts.keepInView(next);
      if (history.isInGesture)
        tool().hover(host, { point: next, place: toScreen(host.viewport, next), kind: 'mouse' });
      announce(sayPoint(next));
      parts.refresh();
      return true;
    }
    const mark = chosen();
    if (!mark || state().tool !== 'select') return false;
    if (!history.isInGesture) history.begin();
    const first = mark.points[handle ?? 0];
    if (!first) return false;
    const to = shift(first);
    const next =
      handle === null
        ? moveMark(mark, { x: to.x - first.x, y: to.y - first.y })
        : reshapeMark(mark, handle, to);
    host.put(next);
    parts.keepInView(next.points[handle ?? 0] ?? to);
    parts.refresh();
    return true;
  };

  const place = (): boolean => {
    const { cursor, tool: id } = state();
    const mark = chosen();
    if (id === 'select' && mark) {
      endNudge();
      const handles = handlesOf(mark).map((h) => h.index);
      const turn: (number | null)[] = [null, ...handles];
      const next = turn[(turn.indexOf(state().handle) + 1) % turn.length] ?? null;
      patch({ handle: next });
      announce(sayHandle(mark, next));
      parts.refresh();
      return true;
    }
    const { setPoint } = tool();
    if (!setPoint) return false;
    if (!cursor) {
      const { stage } = host.viewport;
      const middle = toFrame(host.viewport, { left: stage.width / 2, top: stage.height / 2 });
      patch({ cursor: middle, isChalkShown: true });
      announce(sayCursor(commandOf(`tool-${id}`).label, middle));
      parts.refresh();
      return true;
    }
    if (!history.isInGesture) history.begin();
    const outcome = setPoint(host, cursor);
    if (outcome === 'more') announce(sayPointSet(tool().points.length, cursor));
    parts.settle(outcome);
    return true;
  };

  const letGo = (): boolean => {
    const { cursor, selectedId, words, tool: id } = state();
    if (words) patch({ words: null });
    else if (history.isInGesture) {
      parts.abandon();
      announce('Let go. Nothing was drawn.');
    } else if (cursor) {
      patch({ cursor: null });
      announce('The cross is gone.');
    } else if (selectedId) {
      parts.select(null);
      announce('No mark chosen.');
    } else if (id !== 'select') takeTool('select');
    else return false;
    parts.refresh();
    return true;
  };

  const writeWords = (text: string) => {
    const { words } = state();
    if (!words) return;
    patch({ words: null });
    const clean = text.trim().slice(0, MOST_LETTERS);
    const { markId, point } = words;
    if (clean === '') {
      if (markId) parts.change((marks) => marks.filter((mark) => mark.id !== markId));
    } else if (markId) {
      parts.change((marks) =>
        marks.map((m) => (m.id === markId && m.kind === 'text' ? { ...m, text: clean } : m)),
      );
    } else {
      const mark: Mark = { ...host.newBase(), kind: 'text', points: [point], text: clean };
      parts.change((marks) => [...marks, mark]);
    }
  };

  const removeChosen = (): boolean => {
    const mark = chosen();
    if (!mark) return false;
    parts.change((marks) => marks.filter((m) => m.id !== mark.id));
    parts.select(null);
    announce(`${MARK_NAME[mark.kind]} rubbed out. Take back brings it again.`);
    return true;
  };

  const always = (work: () => void) => (): boolean => {
    work();
    return true;
  };
  const table: Partial<Record<CommandId, () => boolean>> = {
    'tool-select': always(() => takeTool('select')),
    'tool-line': always(() => takeTool('line')),
    'tool-arrow': always(() => takeTool('arrow')),
    'tool-plumb': always(() => takeTool('plumb')),
    'tool-angle': always(() => takeTool('angle')),
    'tool-circle': always(() => takeTool('circle')),
    'tool-freehand': always(() => takeTool('freehand')),
    'tool-text': always(() => takeTool('text')),
    'tool-erase': always(() => takeTool('erase')),
    'chalk-white': always(() => takeChalk('white')),
    'chalk-clay': always(() => takeChalk('clay')),
    'chalk-sky': always(() => takeChalk('sky')),
    undo: always(() => travel('undo')),
    redo: always(() => travel('redo')),
    'next-mark': always(() => stepMark(1)),
    'previous-mark': always(() => stepMark(-1)),
    'show-chalk': always(() => {
      patch({ isChalkShown: !state().isChalkShown });
      announce(state().isChalkShown ? 'Chalk shown.' : 'Chalk hidden.');
      parts.refresh();
    }),
    'pen-mode': always(() => parts.setPenMode(!state().isPenMode)),
    place,
    'nudge-left': () => nudge(-1, 0),
    'nudge-right': () => nudge(1, 0),
    'nudge-up': () => nudge(0, -1),
    'nudge-down': () => nudge(0, 1),
    'nudge-left-far': () => nudge(-10, 0),
    'nudge-right-far': () => nudge(10, 0),
    'nudge-up-far': () => nudge(0, -10),
    'nudge-down-far': () => nudge(0, 10),
    'let-go': letGo,
    'delete-mark': removeChosen,
    'zoom-in': always(() => parts.zoom(1.4)),
    'zoom-out': always(() => parts.zoom(1 / 1.4)),
    'zoom-fit': always(() => parts.zoom(null)),
  };

  return { run: (command: CommandId): boolean => table[command]?.() ?? false, writeWords, endNudge };
};
