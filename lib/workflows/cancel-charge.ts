import { v7 as uuid } from 'uuid';
import { listLedger } from '@/lib/data/ledger.read';
import { appendEntry, promiseBack } from '@/lib/data/ledger.write';
import { readPayer } from '@/lib/data/payers.read';
import { readPolicy } from '@/lib/data/policies.read';
import type { Tx } from '@/lib/data/transaction';
import { cancellationOf } from '@/lib/domain/billing/policy';
import type { LessonState } from '@/lib/domain/lessons/state';
import type { Viewer } from '@/lib/domain/people/viewer';
import type { LedgerEntryId, LessonId } from '@/lib/domain/shared/ids';

/**
 * Ends the claim of a lesson that has just been withdrawn: what is not to be paid any more is waived, a pack lesson
 * goes back to its pack, and what is to be given back is noted. `state` is where the lesson stood before.
 */
export async function cancelCharge(
  viewer: Viewer,
  tx: Tx,
  { lessonId, state, now }: { lessonId: LessonId; state: LessonState; now: Date },
): Promise<void> {
  const lines = await listLedger(viewer, lessonId, tx);
  const [first] = lines;
  const payer = await readPayer(viewer, lessonId, now, tx);
  if (!first || !payer) return;
  const policy = await readPolicy(viewer, lessonId, tx);
  const { waiveMinor, giveBackMinor, packUseId } = cancellationOf(lines, state, policy);
  const reason =
    state === 'submitted' ? 'Withdrawn before a coach took it.' : 'Withdrawn before it was returned.';
  const common = { lessonId, payerId: payer.id, currency: first.currency, reason, at: now };
  if (waiveMinor > 0) {
    const id = uuid() as LedgerEntryId;
    await appendEntry(viewer, tx, { ...common, id, kind: 'waiver', amountMinor: waiveMinor });
  }
  const use = lines.find((line) => line.id === packUseId);
  if (use) {
    await appendEntry(viewer, tx, {
      ...common,
      id: uuid() as LedgerEntryId,
      kind: 'correction',
      amountMinor: -use.amountMinor,
      packId: use.packId,
      takesBackId: use.id,
    });
  }
  if (giveBackMinor > 0) {
    const given = lines.reduce((sum, line) => (line.kind === 'refund' ? sum + line.amountMinor : sum), 0);
    await promiseBack(viewer, tx, lessonId, given + giveBackMinor);
  }
}
