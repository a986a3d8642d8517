import { writeAudit } from '@/lib/data/audit.write';
import { changeBreakdown, lockOwnBreakdown } from '@/lib/data/breakdowns.write';
import { transaction } from '@/lib/data/transaction';
import { breakdownFolder } from '@/lib/domain/breakdowns/files';
import type { Viewer } from '@/lib/domain/people/viewer';
import type { BreakdownId } from '@/lib/domain/shared/ids';
import type { Ports } from './ports';

/**
 * Removes a breakdown: its voice, timeline, parts, exports and captions go, that it existed stays. Removing it again
 * removes what is left of its files. For its coach, or a lead.
 */
export async function removeBreakdown(
  { clock, storage }: Pick<Ports, 'clock' | 'storage'>,
  viewer: Viewer,
  breakdownId: BreakdownId,
): Promise<void> {
  await transaction(viewer, async (tx) => {
    const standing = await lockOwnBreakdown(viewer, tx, breakdownId);
    if (standing.state === 'removed') return;
    await changeBreakdown(viewer, tx, breakdownId, { state: 'removed', removedAt: clock.now() });
    await writeAudit(viewer, tx, {
      action: 'breakdown.removed',
      subject: `breakdown:${breakdownId}`,
      data: { lesson: standing.lessonId, wasGiven: standing.givenAt !== null },
    });
  });
  // After the rows: from here on nobody is shown it, whatever becomes of the files in the next second.
  await storage.remove(breakdownFolder(breakdownId));
}
