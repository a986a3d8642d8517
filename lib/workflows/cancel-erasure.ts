import { writeAudit } from '@/lib/data/audit.write';
import { cancelErasure as cancel } from '@/lib/data/subjects.write';
import { transaction } from '@/lib/data/transaction';
import type { Viewer } from '@/lib/domain/people/viewer';
import type { Ports } from './ports';
import { tellOfErasure } from './tell-of-erasure';

/** Takes an erasure back before it is done. For whoever may speak for the person; everybody who was told hears of it. */
export async function cancelErasure(
  { clock, queue }: Pick<Ports, 'clock' | 'queue'>,
  viewer: Viewer,
  requestId: string,
): Promise<void> {
  const now = clock.now();
  await transaction(viewer, async (tx) => {
    const subject = await cancel(viewer, tx, requestId, now);
    if (!subject) return;
    await writeAudit(viewer, tx, {
      action: 'erasure.cancelled',
      subject: `person:${subject.personId}`,
      data: { request: requestId },
    });
    await tellOfErasure(viewer, tx, subject, now, (program) => ({
      kind: 'erasure-cancelled',
      data: {
        programName: program.name,
        personName: subject.name,
        path: `/everything/${subject.personId}`,
      },
    }));
    await queue.drainOutbox(tx);
  });
}
