import { v5 as uuidOf } from 'uuid';
import { cardStateAfter, shareOut, type CardNews } from '@/lib/domain/billing/card';
import { toPolicy } from '@/lib/domain/billing/policy';
import type { System } from '@/lib/domain/people/viewer';
import { CagepostError } from '@/lib/domain/shared/errors';
import type { ProgramId } from '@/lib/domain/shared/ids';
import { db, type Tx } from './client';
import { numberDocument, type NewDocument } from './number-document';
import { programFacts, toProgram } from './select';

/** Notes that a message of the payment service was dealt with; false when it was already. */
export async function takeCardEvent(
  _system: System,
  tx: Tx,
  event: { id: string; type: string; at: Date },
): Promise<boolean> {
  const { count } = await db(tx).cardEvent.createMany({ data: event, skipDuplicates: true });
  return count === 1;
}

/** One entry that a card payment became. */
export interface CardEntry {
  id: string;
  amountMinor: number;
  /** False for what was too much: it is the payer's. */
  isForBill: boolean;
}

/**
 * Moves a card payment by a message and, when money came, appends it to the ledger: what is owed to the lesson or pack,
 * the rest to the payer's good. Null when no payment of ours is meant, or the message changes nothing.
 */
export async function settleCardPayment(_system: System, tx: Tx, news: CardNews, at: Date) {
  await db(tx).$queryRaw`SELECT 1 FROM "CardPayment" WHERE id::text = ${news.paymentId} FOR UPDATE`;
  const row = await db(tx).cardPayment.findFirst({
    where: { id: { in: isOurs(news.paymentId) ? [news.paymentId] : [] } },
    include: {
      program: { select: programFacts },
      payer: { select: { name: true, email: true } },
      lesson: { select: { number: true, priceLabel: true, policy: true } },
      pack: { select: { label: true, policy: true } },
    },
  });
  if (!row) return null;
  const state = cardStateAfter(row.state, news.kind);
  if (state === row.state) return null;
  await db(tx).cardPayment.update({
    where: { id: row.id },
    data: { state, settledAt: at, sessionId: news.sessionId },
  });
  if (news.kind !== 'paid') return null;
  if (news.currency !== row.currency) {
    throw new CagepostError('conflict', 'A card payment came in another currency than it was asked for.', {
      paymentId: row.id,
    });
  }
  const { programId, payerId, lessonId, packId, currency } = row;
  const subject = lessonId ? `lesson:${lessonId}` : `pack:${packId ?? ''}`;
  // Somebody may be recording cash for the same bill at this moment.
  await db(tx).$queryRaw`SELECT 1 FROM "Balance" WHERE subject = ${subject} FOR UPDATE`;
  const { owedMinor } = await db(tx).balance.findUniqueOrThrow({ where: { subject } });
  const { paid, tooMuch } = shareOut(news.amountMinor, owedMinor);
  const entries: CardEntry[] = [
    { id: row.id, amountMinor: paid, isForBill: true },
    // Its own id, the same at every try.
    { id: uuidOf('too much', row.id), amountMinor: tooMuch, isForBill: false },
  ].filter((entry) => entry.amountMinor > 0);
  for (const { id, amountMinor, isForBill } of entries) {
    await db(tx).ledgerEntry.create({
      data: {
        id,
        programId,
        payerId,
        lessonId: isForBill ? lessonId : null,
        packId: isForBill ? packId : null,
        kind: 'payment',
        amountMinor,
        currency,
        method: 'card',
        reason: isForBill ? '' : 'Paid by card when less was owed.',
        actorId: row.createdById,
        at,
      },
    });
  }
  return {
    programId: programId as ProgramId,
    payerId,
    lessonId,
    packId,
    currency,
    entries,
    owedMinor: Math.max(0, owedMinor - paid),
    program: toProgram(row.program),
    payer: row.payer,
    label: row.pack?.label ?? `${row.lesson?.priceLabel || 'Lesson'}, number ${row.lesson?.number ?? 0}`,
    policy: toPolicy(row.pack?.policy ?? row.lesson?.policy),
  };
}

const isOurs = (id: string) => /^[0-9a-f]{8}(-[0-9a-f]{4}){3}-[0-9a-f]{12}$/.test(id);

/** Makes the receipt of a card payment, with the next number of its program, which it answers. Call it last. */
export async function createCardReceipt(
  _system: System,
  tx: Tx,
  place: { programId: string; payerId: string; lessonId: string | null; packId: string | null },
  document: NewDocument,
): Promise<number> {
  const { programId, payerId, lessonId, packId } = place;
  return numberDocument(tx, { programId, payerId, lessonId, packId }, document);
}
