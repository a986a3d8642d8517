import { stopMail as stop } from '@/lib/data/notices.system';
import { transaction } from '@/lib/data/transaction';
import { stoppable } from '@/lib/domain/notices/stop';
import type { System } from '@/lib/domain/people/viewer';
import { notFound } from '@/lib/domain/shared/errors';

/**
 * Ends one kind of mail for whoever it was sent to, without a session: the signed address from the mail says who. The
 * list of notices goes on as before. Refused for what keeps somebody from harm, and for people who are gone.
 */
export async function stopMail(
  system: System,
  { personId, kind }: { personId: string; kind: string },
): Promise<void> {
  const known = stoppable(kind);
  if (!known) throw notFound('mail');
  const isDone = await transaction(system, (tx) => stop(system, tx, { personId, kind: known }));
  if (!isDone) throw notFound('mail');
}
