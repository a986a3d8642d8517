import { writeAudit } from '@/lib/data/audit.write';
import { askForCaptions as ask, lockBreakdown } from '@/lib/data/breakdowns.write';
import { readAuthor } from '@/lib/data/threads.read';
import { transaction } from '@/lib/data/transaction';
import { isStaff, type Viewer } from '@/lib/domain/people/viewer';
import { CagepostError } from '@/lib/domain/shared/errors';
import type { BreakdownId } from '@/lib/domain/shared/ids';
import type { Ports } from './ports';
import { loadSide, tellStaff } from './thread-side';

/** Somebody who needs captions asks for them; the coach is told, once for each who asks. */
export const askForCaptions = (
  { clock, queue }: Pick<Ports, 'clock' | 'queue'>,
  viewer: Viewer,
  breakdownId: BreakdownId,
): Promise<void> =>
  transaction(viewer, async (tx) => {
    const now = clock.now();
    const standing = await lockBreakdown(viewer, tx, breakdownId);
    if (standing.captions !== '')
      throw new CagepostError(
        'wrong-state',
        'This breakdown has captions already. Load the page again to see them.',
      );
    if (standing.state === 'removed')
      throw new CagepostError('wrong-state', 'This breakdown was removed, so there is nothing to caption.');
    if (!(await ask(viewer, tx, breakdownId, now)) || isStaff(viewer)) return;
    const side = await loadSide(viewer, standing.threadId, now, tx);
    const data = {
      programName: side.program.name,
      playerName: side.player.name,
      authorName: (await readAuthor(viewer, tx)).name,
      lessonNumber: standing.lessonNumber,
      path: `/lessons/${standing.lessonId}#breakdown-${breakdownId}`,
    };
    await tellStaff(viewer, tx, side, now, { kind: 'captions-asked', data }, standing.byId);
    await writeAudit(viewer, tx, { action: 'captions.asked', subject: `breakdown:${breakdownId}` });
    await queue.drainOutbox(tx);
  });
