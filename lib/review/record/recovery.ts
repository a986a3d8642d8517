import type { Recovered } from './session-state';
import { recordsElsewhere, type TakeStore } from './take-store';

/**
 * What earlier pages or a killed browser left of a lesson, newest first, up to the last half second that was written.
 * Nothing while another tab records it.
 */
export const leftBehind = async (
  store: TakeStore,
  lessonId: string,
  personId: string,
): Promise<Recovered[]> => {
  if (await recordsElsewhere(lessonId, personId)) return [];
  const kept = (await store.find(lessonId, personId)).filter((one) => !one.isSent);
  return Promise.all(
    kept.map(async (one) => {
      const open = one.openTake ? ((await store.slices(one.openTake)).at(-1)?.toMs ?? 0) : 0;
      const ms = one.pieces.reduce((sum, piece) => sum + piece.toMs - piece.fromMs, open);
      return { breakdownId: one.breakdownId, startedAt: one.startedAt, ms };
    }),
  );
};

/** What the server says of a breakdown. */
export interface KnownBreakdown {
  readonly id: string;
  readonly state: string;
  readonly givenAt: unknown;
}

/**
 * Brings the copies of this browser in step with the server: what the player has, or what was removed, goes; what
 * failed is offered again, so that its parts can be sent anew. What stands joined stays as long as it may be cut or
 * spoken on.
 */
export const tidyTakes = async (
  store: TakeStore,
  of: { lessonId: string; personId: string },
  known: readonly KnownBreakdown[],
): Promise<void> => {
  for (const kept of await store.find(of.lessonId, of.personId)) {
    if (!kept.isSent) continue;
    const there = known.find((one) => one.id === kept.breakdownId);
    const isDone = there?.state === 'removed' || (there?.state === 'ready' && there.givenAt !== null);
    if (isDone) await store.remove(kept.breakdownId);
    else if (there?.state === 'failed') await store.put({ ...kept, isSent: false });
  }
};
