import type { Mark } from '@/lib/domain/marks/mark';

/** Whether a mark is seen on a frame of a clip, if it is not hidden. */
export const isOnFrame = (mark: Mark, clipId: string, frame: number): boolean =>
  mark.clipId === clipId && mark.frame <= frame && frame < mark.frame + mark.span;

/** The marks of one frame in the order they were drawn, hidden ones included (the list of marks shows them). */
export const marksOnFrame = (marks: readonly Mark[], clipId: string, frame: number): Mark[] =>
  marks.filter((mark) => isOnFrame(mark, clipId, frame));

/** For every frame of a clip that carries a mark: how many start or stay on it. For the frame strip. */
export const markedFrames = (marks: readonly Mark[], clipId: string): Map<number, number> => {
  const counts = new Map<number, number>();
  for (const mark of marks) {
    if (mark.clipId !== clipId) continue;
    for (let frame = mark.frame; frame < mark.frame + mark.span; frame += 1) {
      counts.set(frame, (counts.get(frame) ?? 0) + 1);
    }
  }
  return counts;
};

/** The nearest frame before (-1) or after (1) `frame` on which a mark starts; null when there is none. */
export const nextMarkedFrame = (
  marks: readonly Mark[],
  clipId: string,
  frame: number,
  direction: -1 | 1,
): number | null => {
  const starts = marks
    .filter((mark) => mark.clipId === clipId && Math.sign(mark.frame - frame) === direction)
    .map((mark) => mark.frame);
  if (starts.length === 0) return null;
  return direction === 1 ? Math.min(...starts) : Math.max(...starts);
};
