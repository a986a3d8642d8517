import { writeAudit } from '@/lib/data/audit.write';
import { appendPackEntry } from '@/lib/data/ledger.write';
import { lockPack } from '@/lib/data/packs.read';
import { readPayerOf } from '@/lib/data/payers.read';
import { readProgram } from '@/lib/data/program.read';
import { transaction } from '@/lib/data/transaction';
import { LEDGER_REFUSALS, refusalOf } from '@/lib/domain/billing/entry-refusals';
import { accountOf } from '@/lib/domain/billing/ledger';
import { METHOD_WORD } from '@/lib/domain/billing/methods';
import { isLead, type Viewer } from '@/lib/domain/people/viewer';
import { CagepostError, notFound } from '@/lib/domain/shared/errors';
import type { PackId } from '@/lib/domain/shared/ids';
import { issueDocument } from './issue-document';
import type { Ports } from './ports';
import type { Recorded } from './record-entry';

/** Appends a payment, waiver, refund or correction to what a pack costs, once for its id, with its document. By a lead. */
export async function recordPackEntry(
  { clock, queue }: Pick<Ports, 'clock' | 'queue'>,
  viewer: Viewer,
  { packId, ...entry }: Recorded & { packId: PackId },
): Promise<void> {
  if (!isLead(viewer)) throw notFound('pack');
  const now = clock.now();
  await transaction(viewer, async (tx) => {
    const pack = await lockPack(viewer, tx, packId);
    const payer = pack && (await readPayerOf(viewer, pack.payerId, now, tx));
    if (!pack || !payer) throw notFound('pack');
    if (pack.ledger.some((line) => line.id === entry.id)) return;
    const refusal = refusalOf(pack.ledger, entry, 'pack');
    if (refusal) throw new CagepostError('invalid', LEDGER_REFUSALS[refusal], { refusal });
    const reason = entry.reason.trim();
    const movesMoney = entry.kind === 'payment' || entry.kind === 'refund';
    const method = movesMoney ? (entry.method ?? null) : null;
    const { currency } = pack;
    await appendPackEntry(viewer, tx, {
      ...entry,
      packId,
      payerId: payer.id,
      currency,
      method,
      reason,
      at: now,
    });
    await writeAudit(viewer, tx, {
      action: `ledger.${entry.kind}`,
      subject: `pack:${packId}`,
      data: { entry: entry.id, amountMinor: entry.amountMinor },
    });
    if (!movesMoney) return;
    const program = await readProgram(viewer, tx);
    await issueDocument(viewer, tx, {
      program,
      payer,
      now,
      saying: {
        entryId: entry.id,
        kind: entry.kind === 'payment' ? 'receipt' : 'credit_note',
        label: pack.label,
        amountMinor: entry.amountMinor,
        currency,
        method: method && METHOD_WORD[method],
        reason: entry.kind === 'refund' ? reason : '',
        stillOwedMinor: accountOf([...pack.ledger, entry]).owedMinor,
        policy: program.policy,
      },
    });
    await queue.drainOutbox(tx);
  });
}
