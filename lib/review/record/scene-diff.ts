import type { BreakdownEvent, Look, Scene } from '@/lib/domain/breakdowns/event';
import type { FramePoint, Mark } from '@/lib/domain/marks/mark';

/** An event without its time. */
export type Change = BreakdownEvent extends infer Event
  ? Event extends BreakdownEvent
    ? Omit<Event, 't'>
    : never
  : never;

/** A hand that moved less than this part of the picture points at the same place. */
const STILL = 0.002;

const tidy = (value: number, parts: number) => Math.round(value * parts) / parts;
const hold = (value: number, least: number, most: number) => Math.min(most, Math.max(least, value));

/** Where a hand is, as it is recorded: to a thousandth of the picture, held to where points may lie. */
export const tidyPoint = ({ x, y }: FramePoint): FramePoint => ({
  x: tidy(hold(x, -0.5, 1.5), 1e3),
  y: tidy(hold(y, -0.5, 1.5), 1e3),
});

/** A mark as it is recorded: its points to a hundred-thousandth, less than a hundredth of a pixel of any clip. */
export const tidyMark = (mark: Mark): Mark => {
  const points = mark.points.map(({ x, y }) => ({ x: tidy(x, 1e5), y: tidy(y, 1e5) }));
  // As many points as before, so that it is a mark of the same kind.
  return { ...mark, points } as Mark;
};

/** A look as it is recorded, held to what a scene takes. */
export const tidyLook = ({ x, y, zoom }: Look): Look => ({
  x: tidy(hold(x, -0.5, 1.5), 1e4),
  y: tidy(hold(y, -0.5, 1.5), 1e4),
  zoom: tidy(hold(zoom, 0.2, 40), 1e4),
});

const isSamePoint = (a: FramePoint | null, b: FramePoint | null) =>
  a === b || (a !== null && b !== null && Math.abs(a.x - b.x) < STILL && Math.abs(a.y - b.y) < STILL);
const isSameLook = (a: Look, b: Look) => a.x === b.x && a.y === b.y && a.zoom === b.zoom;

/**
 * How one mark became another: a free hand line that is still under the hand grows by the place of the hand (the
 * smoothed line takes its place when it is lifted); every other change is the mark as a whole.
 */
const markChange = (before: Mark | undefined, after: Mark, isInHand: boolean): Change | null => {
  if (before === after) return null;
  if (!isInHand || before?.kind !== 'freehand' || after.kind !== 'freehand') {
    return { kind: 'mark', mark: tidyMark(after) };
  }
  const [from, to] = [before.points.at(-1), after.points.at(-1)];
  if (!to || (from && isSamePoint(from, to))) return null;
  return { kind: 'grow', id: after.id, points: [tidyPoint(to)] };
};

/**
 * What must happen to `before` to look like `after`, in the order it is to be done. `inHand` names the marks that a
 * gesture still changes.
 */
export const changesOf = (before: Scene, after: Scene, inHand: ReadonlySet<string>): Change[] => {
  const changes: (Change | null)[] = [];
  if (before.clipId !== after.clipId || before.frame !== after.frame)
    changes.push({ kind: 'frame', clipId: after.clipId, frame: after.frame });
  if (before.isPlaying !== after.isPlaying || before.speed !== after.speed)
    changes.push({ kind: 'play', isPlaying: after.isPlaying, speed: after.speed });
  if (!isSameLook(before.look, after.look)) changes.push({ kind: 'look', look: after.look });
  if (before.checkpoint !== after.checkpoint || before.itemId !== after.itemId)
    changes.push({ kind: 'choose', checkpoint: after.checkpoint, itemId: after.itemId });
  if (before.isChalkShown !== after.isChalkShown)
    changes.push({ kind: 'chalk', isShown: after.isChalkShown });
  if (before.marks !== after.marks) {
    const old = new Map(before.marks.map((mark) => [mark.id, mark]));
    for (const mark of after.marks) {
      changes.push(markChange(old.get(mark.id), mark, inHand.has(mark.id)));
      old.delete(mark.id);
    }
    if (old.size > 0) changes.push({ kind: 'rub', ids: [...old.keys()] });
  }
  if (!isSamePoint(before.pointer, after.pointer)) changes.push({ kind: 'point', at: after.pointer });
  if (JSON.stringify(before.beside) !== JSON.stringify(after.beside))
    changes.push({ kind: 'beside', beside: after.beside });
  if (before.caption !== after.caption) changes.push({ kind: 'caption', text: after.caption });
  return changes.filter((change) => change !== null);
};
