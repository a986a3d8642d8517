import type { Viewer } from '@/lib/domain/people/viewer';
import { CagepostError, notFound } from '@/lib/domain/shared/errors';
import type { CardPaymentId } from '@/lib/domain/shared/ids';
import { db, type Tx } from './client';
import { familyOf, payersVisibleTo } from './visibility';

/** A way to the card page: what is to be paid there, and for what. */
export interface CardPaymentFacts {
  amountMinor: number;
  currency: string;
  label: string;
  email: string | null;
}

const wanted = {
  payerId: true,
  lessonId: true,
  packId: true,
  owedMinor: true,
  currency: true,
  payer: { select: { email: true } },
  lesson: { select: { priceLabel: true, number: true } },
  pack: { select: { label: true } },
} as const;

/**
 * Notes that somebody of the payer's family goes to pay what is owed for a lesson or a pack, once for its id. `subject`
 * is that of the balance. Refused when it is not the family's, or nothing is owed.
 */
export async function createCardPayment(
  viewer: Viewer,
  tx: Tx,
  { id, subject, at }: { id: CardPaymentId; subject: string; at: Date },
): Promise<CardPaymentFacts> {
  const balance = await db(tx).balance.findFirst({
    where: { AND: [{ subject }, familyOf(viewer)] },
    select: wanted,
  });
  if (!balance || (!balance.lessonId && !balance.packId)) throw notFound('bill');
  const { payerId, lessonId, packId, owedMinor, currency, payer, lesson, pack } = balance;
  const known = await db(tx).cardPayment.findUnique({ where: { id } });
  if (known && (known.payerId !== payerId || known.lessonId !== lessonId || known.packId !== packId)) {
    throw notFound('bill');
  }
  const label = pack?.label ?? `${lesson?.priceLabel || 'Lesson'}, number ${lesson?.number ?? 0}`;
  // The same way again, for the amount it was begun with: the service knows it under this id.
  if (known) return { amountMinor: known.amountMinor, currency, label, email: payer.email };
  if (owedMinor <= 0) {
    throw new CagepostError('wrong-state', 'Nothing is owed for this any more. Nothing was taken.');
  }
  await db(tx).cardPayment.create({
    data: {
      id,
      programId: viewer.programId,
      payerId,
      lessonId,
      packId,
      amountMinor: owedMinor,
      currency,
      createdById: viewer.personId,
      createdAt: at,
    },
  });
  return { amountMinor: owedMinor, currency, label, email: payer.email };
}

/** Notes the service's own name of a card payment, for who looks it up there. */
export async function noteCardSession(
  viewer: Viewer,
  tx: Tx,
  id: CardPaymentId,
  sessionId: string,
): Promise<void> {
  const { count } = await db(tx).cardPayment.updateMany({
    where: { AND: [{ id, createdById: viewer.personId }, payersVisibleTo(viewer)] },
    data: { sessionId },
  });
  if (count === 0) throw notFound('bill');
}
