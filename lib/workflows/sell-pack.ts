import { v7 as uuid } from 'uuid';
import { writeAudit } from '@/lib/data/audit.write';
import { appendPackEntry } from '@/lib/data/ledger.write';
import { createPack } from '@/lib/data/packs.write';
import { readPayerOf } from '@/lib/data/payers.read';
import { listPrices } from '@/lib/data/prices.read';
import { readProgram } from '@/lib/data/program.read';
import { transaction } from '@/lib/data/transaction';
import { USUAL_VALID_DAYS, validUntil } from '@/lib/domain/billing/packs';
import { dueAfter } from '@/lib/domain/billing/policy';
import { isLead, type Viewer } from '@/lib/domain/people/viewer';
import { CagepostError, notFound } from '@/lib/domain/shared/errors';
import type { LedgerEntryId, PackId, PersonId, PriceId } from '@/lib/domain/shared/ids';
import { issueDocument } from './issue-document';
import type { Ports } from './ports';

/**
 * Sells a pack of the price list to a payer, once for its id: the pack may be used from now on, its price is due by the
 * program's policy, and the invoice is made. What was agreed is copied into the pack. By a lead.
 */
export async function sellPack(
  { clock, queue }: Pick<Ports, 'clock' | 'queue'>,
  viewer: Viewer,
  input: { id: PackId; payerId: PersonId; priceId: PriceId },
): Promise<void> {
  if (!isLead(viewer)) throw notFound('pack');
  const now = clock.now();
  await transaction(viewer, async (tx) => {
    const payer = await readPayerOf(viewer, input.payerId, now, tx);
    const price = (await listPrices(viewer, tx)).find((line) => line.id === input.priceId);
    if (!payer) throw notFound('payer');
    if (price?.kind !== 'pack') {
      throw new CagepostError(
        'conflict',
        'That pack is not on the price list any more, or its price has changed. Nothing was sold; look at the list and choose again.',
      );
    }
    if (payer.isMinor) {
      throw new CagepostError(
        'safeguarding',
        'A minor cannot buy a pack. Nothing was sold; choose a parent or guardian.',
      );
    }
    const program = await readProgram(viewer, tx);
    const common = { amountMinor: price.amountMinor, currency: price.currency };
    const isNew = await createPack(viewer, tx, {
      ...input,
      ...common,
      label: price.label,
      lessons: price.lessons,
      policy: program.policy,
      soldAt: now,
      validUntil: validUntil(now, price.validDays ?? USUAL_VALID_DAYS),
    });
    if (!isNew) return;
    const dueAt = dueAfter(now, program.policy);
    const entryId = uuid() as LedgerEntryId;
    await appendPackEntry(viewer, tx, {
      ...common,
      id: entryId,
      packId: input.id,
      payerId: payer.id,
      kind: 'pack_sale',
      reason: price.label,
      dueAt,
      at: now,
    });
    await writeAudit(viewer, tx, {
      action: 'pack.sold',
      subject: `pack:${input.id}`,
      data: { payer: payer.id, price: price.id },
    });
    await issueDocument(viewer, tx, {
      program,
      payer,
      now,
      saying: {
        ...common,
        entryId,
        kind: 'invoice',
        label: `${price.label}, ${price.lessons} lessons`,
        dueAt,
        stillOwedMinor: price.amountMinor,
        policy: program.policy,
      },
    });
    await queue.drainOutbox(tx);
  });
}
