import type { Checkpoint } from '../checkpoints/checkpoint';
import type { ClipView } from '../clips/clip';
import type { ClipId } from '../shared/ids';

/** A clip that another can stand beside. */
export interface ComparableClip {
  id: ClipId;
  lessonNumber: number;
  view: ClipView | null;
  /** Checkpoints that are pinned on it. */
  pinned: readonly Checkpoint[];
}

/**
 * The clip that a swing is best held against when nobody chose one: taken from the same view, with the checkpoint
 * pinned, of the lesson before rather than a later one or the same, and of those the nearest. Null without another.
 */
export function nearestPartner(
  clip: ComparableClip,
  others: readonly ComparableClip[],
  at: Checkpoint,
): ComparableClip | null {
  const worth = (other: ComparableClip) => [
    Number(other.lessonNumber < clip.lessonNumber),
    Number(other.view !== null && other.view === clip.view),
    Number(other.pinned.includes(at)),
    -Math.abs(other.lessonNumber - clip.lessonNumber),
  ];
  const isBetter = (one: number[], two: number[]) => {
    const at = one.findIndex((value, index) => value !== two[index]);
    return at >= 0 && (one[at] ?? 0) > (two[at] ?? 0);
  };
  return others
    .filter((other) => other.id !== clip.id)
    .reduce<ComparableClip | null>(
      (best, other) => (best === null || isBetter(worth(other), worth(best)) ? other : best),
      null,
    );
}
