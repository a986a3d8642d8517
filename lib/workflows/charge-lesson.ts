import { v7 as uuid } from 'uuid';
import { appendEntry } from '@/lib/data/ledger.write';
import { lockUsablePack } from '@/lib/data/packs.read';
import { readPayer } from '@/lib/data/payers.read';
import type { Tx } from '@/lib/data/transaction';
import { PACK_REFUSALS, packRefusal } from '@/lib/domain/billing/packs';
import { dueAfter } from '@/lib/domain/billing/policy';
import type { ProgramFacts } from '@/lib/domain/lessons/lesson';
import type { Viewer } from '@/lib/domain/people/viewer';
import { CagepostError, notFound } from '@/lib/domain/shared/errors';
import type { LedgerEntryId, LessonId, PackId, PersonId } from '@/lib/domain/shared/ids';
import { issueDocument } from './issue-document';

/**
 * Charges a lesson that is being sent: to its payer with an invoice, or to a pack of the family. Inside the transaction
 * of sending, after the lesson's lock. A pack that cannot pay refuses, and nothing is sent.
 */
export async function chargeLesson(
  viewer: Viewer,
  tx: Tx,
  about: {
    lessonId: LessonId;
    playerId: PersonId;
    number: number;
    price: { label: string; amountMinor: number; currency: string };
    program: ProgramFacts;
    packId: PackId | null;
    now: Date;
  },
): Promise<void> {
  const { lessonId, price, program, packId, now } = about;
  const pack = packId === null ? null : await lockUsablePack(viewer, tx, packId, about.playerId);
  if (packId !== null) {
    const refusal = packRefusal(pack, now);
    if (refusal) throw new CagepostError('invalid', PACK_REFUSALS[refusal], { refusal, packId });
  }
  const payer = await readPayer(viewer, lessonId, now, tx);
  if (!payer) throw notFound('lesson');
  const dueAt = pack ? null : dueAfter(now, program.policy);
  const charge = {
    id: uuid() as LedgerEntryId,
    lessonId,
    // What a pack pays for is its buyer's.
    payerId: pack?.payerId ?? payer.id,
    kind: 'charge' as const,
    amountMinor: price.amountMinor,
    currency: price.currency,
    reason: price.label,
    dueAt,
    at: now,
  };
  await appendEntry(viewer, tx, charge);
  if (pack) {
    const use = { ...charge, id: uuid() as LedgerEntryId, kind: 'pack_use' as const, packId: pack.id };
    await appendEntry(viewer, tx, { ...use, reason: pack.label });
    return;
  }
  await issueDocument(viewer, tx, {
    program,
    payer,
    now,
    saying: {
      entryId: charge.id,
      kind: 'invoice',
      label: lessonLabel(price.label, about.number),
      amountMinor: price.amountMinor,
      currency: price.currency,
      dueAt,
      stillOwedMinor: price.amountMinor,
      policy: program.policy,
    },
  });
}

/** What a lesson is called on a bill: without a player's name. */
export const lessonLabel = (priceLabel: string, number: number): string =>
  `${priceLabel || 'Lesson'}, number ${number}`;
