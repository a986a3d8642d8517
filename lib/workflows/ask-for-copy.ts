import { writeAudit } from '@/lib/data/audit.write';
import { askPersonalExport } from '@/lib/data/subjects.write';
import { transaction } from '@/lib/data/transaction';
import type { Viewer } from '@/lib/domain/people/viewer';
import type { PersonId } from '@/lib/domain/shared/ids';
import type { Ports } from './ports';

/**
 * Somebody who may speak for a person asks for a file with everything about them. A worker makes it. While one is being
 * made, asking again waits for that one.
 */
export async function askForCopy(
  { clock, queue }: Pick<Ports, 'clock' | 'queue'>,
  viewer: Viewer,
  request: { id: string; personId: PersonId },
): Promise<{ copyId: string }> {
  return transaction(viewer, async (tx) => {
    const { id, isNew } = await askPersonalExport(viewer, tx, request, clock.now());
    if (isNew) {
      await queue.makeCopy(id, tx);
      await writeAudit(viewer, tx, {
        action: 'copy.asked',
        subject: `person:${request.personId}`,
        data: { copy: id },
      });
    }
    return { copyId: id };
  });
}
