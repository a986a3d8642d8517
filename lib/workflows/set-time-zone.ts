import { writeAudit } from '@/lib/data/audit.write';
import { setTimeZone as set } from '@/lib/data/people.write';
import { transaction } from '@/lib/data/transaction';
import type { Viewer } from '@/lib/domain/people/viewer';
import type { PersonId } from '@/lib/domain/shared/ids';

/** The player or a guardian says in which zone the player lives; quiet hours follow it from the next notice on. */
export async function setTimeZone(
  viewer: Viewer,
  { playerId, timeZone }: { playerId: PersonId; timeZone: string | null },
): Promise<void> {
  await transaction(viewer, async (tx) => {
    await set(viewer, tx, playerId, timeZone);
    await writeAudit(viewer, tx, {
      action: 'person.time-zone',
      subject: `person:${playerId}`,
      data: { timeZone },
    });
  });
}
