import { changeBreakdown, lockOwnBreakdown } from '@/lib/data/breakdowns.write';
import { transaction } from '@/lib/data/transaction';
import type { Viewer } from '@/lib/domain/people/viewer';
import { CagepostError } from '@/lib/domain/shared/errors';
import type { BreakdownId } from '@/lib/domain/shared/ids';

/** Gives a breakdown another title. For its coach, or a lead. */
export const renameBreakdown = (
  viewer: Viewer,
  input: { breakdownId: BreakdownId; title: string },
): Promise<void> =>
  transaction(viewer, async (tx) => {
    const { state } = await lockOwnBreakdown(viewer, tx, input.breakdownId);
    if (state === 'removed')
      throw new CagepostError('wrong-state', 'This breakdown was removed. Only that it existed is kept.');
    await changeBreakdown(viewer, tx, input.breakdownId, { title: input.title.trim() });
  });
