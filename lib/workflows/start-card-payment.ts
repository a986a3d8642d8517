import { createCardPayment, noteCardSession } from '@/lib/data/cards.write';
import { writeAudit } from '@/lib/data/audit.write';
import { transaction } from '@/lib/data/transaction';
import type { Viewer } from '@/lib/domain/people/viewer';
import type { CardPaymentId } from '@/lib/domain/shared/ids';
import type { Cards, Ports } from './ports';

/**
 * Opens the way to pay by card what is owed for a lesson or a pack (`subject` of its balance), and answers the address
 * of the card page. Asked again under the same id it answers the same page. Nothing is recorded as paid before the
 * payment service says so. By the payer's family.
 */
export async function startCardPayment(
  { clock, cards, backTo }: Pick<Ports, 'clock'> & { cards: Cards; backTo: string },
  viewer: Viewer,
  { id, subject }: { id: CardPaymentId; subject: string },
): Promise<{ url: string }> {
  const facts = await transaction(viewer, async (tx) => {
    const made = await createCardPayment(viewer, tx, { id, subject, at: clock.now() });
    await writeAudit(viewer, tx, { action: 'card.begun', subject: `card:${id}` });
    return made;
  });
  // Outside the transaction: the service may take its time, and locks must not wait for it.
  const { sessionId, url } = await cards.open({ id, backTo, ...facts });
  await transaction(viewer, (tx) => noteCardSession(viewer, tx, id, sessionId));
  return { url };
}
