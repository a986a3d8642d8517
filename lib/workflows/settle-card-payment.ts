import { writeSystemAudit } from '@/lib/data/audit.write';
import { createCardReceipt, settleCardPayment as settle, takeCardEvent } from '@/lib/data/cards.system';
import { transaction } from '@/lib/data/transaction';
import { documentName } from '@/lib/domain/billing/documents';
import { METHOD_WORD } from '@/lib/domain/billing/methods';
import type { System } from '@/lib/domain/people/viewer';
import { factsOf } from './issue-document';
import type { Cards, Ports } from './ports';
import { tell } from './tell';

/**
 * Takes one message of the payment service: checks who wrote it, and records a payment with its receipt, once. The same
 * message again, an older one, or one about something else changes nothing. Refuses (`invalid`) what the service did
 * not sign.
 */
export async function settleCardPayment(
  { clock, cards, log, queue }: Pick<Ports, 'clock' | 'log' | 'queue'> & { cards: Cards },
  system: System,
  message: { payload: string; signature: string | null },
): Promise<'settled' | 'ignored'> {
  const { id, type, news } = cards.read(message.payload, message.signature);
  if (!news) return 'ignored';
  const now = clock.now();
  return transaction(system, async (tx) => {
    if (!(await takeCardEvent(system, tx, { id, type, at: now }))) return 'ignored';
    const settled = await settle(system, tx, news, now);
    if (!settled) {
      log.info({ event: id, type, paymentId: news.paymentId }, 'a message about a card payment');
      return 'ignored';
    }
    const { entries, program, payer, owedMinor } = settled;
    for (const entry of entries) {
      const number = await createCardReceipt(system, tx, settled, {
        entryId: entry.id,
        kind: 'receipt',
        facts: factsOf(program, payer.name, {
          entryId: entry.id,
          kind: 'receipt',
          label: entry.isForBill ? settled.label : 'Paid too much, to be given back',
          amountMinor: entry.amountMinor,
          currency: settled.currency,
          method: METHOD_WORD.card,
          stillOwedMinor: owedMinor,
          policy: settled.policy,
        }),
        at: now,
      });
      await writeSystemAudit(system, tx, settled.programId, {
        action: 'ledger.payment',
        subject: settled.lessonId ? `lesson:${settled.lessonId}` : `pack:${settled.packId ?? ''}`,
        data: { entry: entry.id, amountMinor: entry.amountMinor },
      });
      if (!payer.email) continue;
      const facts = { programName: program.name, documentName: documentName('receipt', number) };
      await tell(
        system,
        tx,
        { kind: 'document-ready', data: { ...facts, path: '/billing' } },
        {
          programId: settled.programId,
          playerId: null,
          to: [{ personId: settled.payerId, email: payer.email, at: now }],
          now,
        },
      );
    }
    await queue.drainOutbox(tx);
    return 'settled';
  });
}
