import { writeAudit } from '@/lib/data/audit.write';
import { changeBreakdown, lockOwnBreakdown } from '@/lib/data/breakdowns.write';
import { transaction } from '@/lib/data/transaction';
import type { Viewer } from '@/lib/domain/people/viewer';
import { CagepostError } from '@/lib/domain/shared/errors';
import type { BreakdownId } from '@/lib/domain/shared/ids';

/**
 * Opens a breakdown that was kept, so that more of it can be recorded ("again from here"). What stands goes on standing
 * until it is kept again. Not once the player has it.
 */
export const reopenBreakdown = (viewer: Viewer, breakdownId: BreakdownId): Promise<void> =>
  transaction(viewer, async (tx) => {
    const standing = await lockOwnBreakdown(viewer, tx, breakdownId);
    if (standing.state === 'recording') return;
    if (standing.givenAt || standing.state === 'removed')
      throw new CagepostError(
        'wrong-state',
        'The player has this breakdown already, or it was removed, so it stays as it is. Record a second one.',
      );
    await changeBreakdown(viewer, tx, breakdownId, { state: 'recording' });
    await writeAudit(viewer, tx, { action: 'breakdown.reopened', subject: `breakdown:${breakdownId}` });
  });
