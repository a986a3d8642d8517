import { writeAudit } from '@/lib/data/audit.write';
import { lockBreakdown, markCaptionsAsked } from '@/lib/data/breakdowns.write';
import { transaction } from '@/lib/data/transaction';
import { isStaff, type Viewer } from '@/lib/domain/people/viewer';
import { CagepostError, notFound } from '@/lib/domain/shared/errors';
import type { BreakdownId } from '@/lib/domain/shared/ids';
import type { Ports } from './ports';

/** Asks the speech service for captions of a breakdown that has none. For staff, where a service is set up. */
export const requestCaptions = (
  { queue }: Pick<Ports, 'queue'>,
  viewer: Viewer,
  breakdownId: BreakdownId,
): Promise<void> =>
  transaction(viewer, async (tx) => {
    const standing = await lockBreakdown(viewer, tx, breakdownId);
    if (!isStaff(viewer)) throw notFound('breakdown');
    if (standing.captionState === 'asked') return;
    if (standing.state !== 'ready' || !standing.hasVoice || standing.captions !== '')
      throw new CagepostError(
        'wrong-state',
        'Captions can be made for a breakdown that is ready, spoken, and has none yet. Nothing was changed.',
      );
    await markCaptionsAsked(viewer, tx, breakdownId);
    await queue.workOnBreakdown({ kind: 'captions', breakdownId }, tx);
    await writeAudit(viewer, tx, { action: 'captions.requested', subject: `breakdown:${breakdownId}` });
  });
