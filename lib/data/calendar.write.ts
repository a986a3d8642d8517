import { isStaff, type Viewer } from '@/lib/domain/people/viewer';
import { notFound } from '@/lib/domain/shared/errors';
import { db, type Tx } from './client';
import { tokenHash } from './token-hash';

/**
 * Keeps the secret of the viewer's calendar address, as a hash, in place of the one before; null ends the address. For
 * staff.
 */
export async function keepCalendarKey(viewer: Viewer, tx: Tx, secret: string | null): Promise<void> {
  if (!isStaff(viewer)) throw notFound('calendar');
  await db(tx).person.update({
    where: { id: viewer.personId },
    data: { calendarKey: secret === null ? null : tokenHash(secret) },
  });
}
