import { writeAudit } from '@/lib/data/audit.write';
import { askErasure as ask } from '@/lib/data/subjects.write';
import { transaction } from '@/lib/data/transaction';
import { dayIn } from '@/lib/domain/people/age';
import type { Viewer } from '@/lib/domain/people/viewer';
import { erasureDue } from '@/lib/domain/privacy/erasure';
import type { PersonId } from '@/lib/domain/shared/ids';
import type { Ports } from './ports';
import { tellOfErasure } from './tell-of-erasure';

/**
 * Somebody who may speak for a person asks that everything about them is erased. It is done after the days in which it
 * can be taken back; everybody concerned is told at once. Asked for again it stays as it is. While a legal hold stands
 * it is kept and waits: the page says so.
 */
export async function askErasure(
  { clock, queue }: Pick<Ports, 'clock' | 'queue'>,
  viewer: Viewer,
  request: { id: string; personId: PersonId },
): Promise<{ requestId: string }> {
  const at = clock.now();
  const dueAt = erasureDue(at);
  return transaction(viewer, async (tx) => {
    const subject = await ask(viewer, tx, request, { at, dueAt });
    if (subject) {
      await writeAudit(viewer, tx, {
        action: 'erasure.asked',
        subject: `person:${request.personId}`,
        data: { request: request.id },
      });
      await tellOfErasure(viewer, tx, subject, at, (program) => ({
        kind: 'erasure-asked',
        data: {
          programName: program.name,
          personName: subject.name,
          on: dayIn(program.timeZone, dueAt),
          path: `/everything/${request.personId}`,
        },
      }));
      await queue.drainOutbox(tx);
    }
    return { requestId: request.id };
  });
}
