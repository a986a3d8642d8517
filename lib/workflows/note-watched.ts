import { noteWatched as note } from '@/lib/data/breakdowns.write';
import { transaction } from '@/lib/data/transaction';
import type { Viewer } from '@/lib/domain/people/viewer';
import type { BreakdownId } from '@/lib/domain/shared/ids';
import type { Ports } from './ports';

/** Notes how far the viewer is in a breakdown, in milliseconds, and whether it came to its end. */
export const noteWatched = (
  { clock }: Pick<Ports, 'clock'>,
  viewer: Viewer,
  input: { breakdownId: BreakdownId; positionMs: number; isDone: boolean },
): Promise<void> =>
  transaction(viewer, (tx) =>
    note(viewer, tx, input.breakdownId, {
      positionMs: Math.round(input.positionMs),
      isDone: input.isDone,
      at: clock.now(),
    }),
  );
