import { writeAudit } from '@/lib/data/audit.write';
import { lockPayer } from '@/lib/data/payers.write';
import { appendPayerEntry } from '@/lib/data/ledger.write';
import { readPayerOf } from '@/lib/data/payers.read';
import { readProgram } from '@/lib/data/program.read';
import { transaction } from '@/lib/data/transaction';
import { LEDGER_REFUSALS, refusalOf } from '@/lib/domain/billing/entry-refusals';
import { METHOD_WORD } from '@/lib/domain/billing/methods';
import { isLead, type Viewer } from '@/lib/domain/people/viewer';
import { CagepostError, notFound } from '@/lib/domain/shared/errors';
import type { PersonId } from '@/lib/domain/shared/ids';
import { issueDocument } from './issue-document';
import type { Ports } from './ports';
import type { Recorded } from './record-entry';

/** Records that money which a payer had paid too much was given back, once for its id, with a credit note. By a lead. */
export async function refundPayer(
  { clock, queue }: Pick<Ports, 'clock' | 'queue'>,
  viewer: Viewer,
  { payerId, ...entry }: Omit<Recorded, 'kind'> & { payerId: PersonId },
): Promise<void> {
  if (!isLead(viewer)) throw notFound('payer');
  const now = clock.now();
  await transaction(viewer, async (tx) => {
    const rest = await lockPayer(viewer, tx, payerId);
    const payer = await readPayerOf(viewer, payerId, now, tx);
    if (!rest || !payer) throw notFound('payer');
    if (rest.ledger.some((line) => line.id === entry.id)) return;
    const next = { ...entry, kind: 'refund' as const };
    const refusal = refusalOf(rest.ledger, next, 'payer');
    if (refusal) throw new CagepostError('invalid', LEDGER_REFUSALS[refusal], { refusal });
    const reason = entry.reason.trim();
    const method = entry.method ?? null;
    const { currency } = rest;
    await appendPayerEntry(viewer, tx, { ...next, payerId, currency, method, reason, at: now });
    await writeAudit(viewer, tx, {
      action: 'ledger.refund',
      subject: `person:${payerId}`,
      data: { entry: entry.id, amountMinor: entry.amountMinor },
    });
    const program = await readProgram(viewer, tx);
    await issueDocument(viewer, tx, {
      program,
      payer,
      now,
      saying: {
        entryId: entry.id,
        kind: 'credit_note',
        label: 'Paid too much',
        amountMinor: entry.amountMinor,
        currency,
        method: method && METHOD_WORD[method],
        reason,
        stillOwedMinor: 0,
        policy: program.policy,
      },
    });
    await queue.drainOutbox(tx);
  });
}
