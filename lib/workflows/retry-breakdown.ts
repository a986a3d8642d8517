import { writeAudit } from '@/lib/data/audit.write';
import { changeBreakdown, lockOwnBreakdown } from '@/lib/data/breakdowns.write';
import { transaction } from '@/lib/data/transaction';
import { breakdownFaultOf, factsOfBreakdownFault } from '@/lib/domain/breakdowns/breakdown-faults';
import type { Viewer } from '@/lib/domain/people/viewer';
import { CagepostError } from '@/lib/domain/shared/errors';
import type { BreakdownId } from '@/lib/domain/shared/ids';
import type { Ports } from './ports';

/** Asks for another try at putting a failed breakdown together. Throws `wrong-state` where that cannot help. */
export const retryBreakdown = (
  { queue }: Pick<Ports, 'queue'>,
  viewer: Viewer,
  breakdownId: BreakdownId,
): Promise<void> =>
  transaction(viewer, async (tx) => {
    const standing = await lockOwnBreakdown(viewer, tx, breakdownId);
    const fault = breakdownFaultOf(standing.failCode);
    const isOver = fault !== null && factsOfBreakdownFault(fault).retry === 'never';
    if (standing.state !== 'failed' || standing.recipe === null || isOver)
      throw new CagepostError(
        'wrong-state',
        'There is nothing to try again: this breakdown is ready, on its way, or has to be recorded anew.',
        { state: standing.state },
      );
    await changeBreakdown(viewer, tx, breakdownId, { state: 'assembling' });
    await queue.workOnBreakdown({ kind: 'assemble', breakdownId }, tx);
    await writeAudit(viewer, tx, { action: 'breakdown.retried', subject: `breakdown:${breakdownId}` });
  });
