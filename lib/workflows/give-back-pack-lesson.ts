import { writeAudit } from '@/lib/data/audit.write';
import { listLedger } from '@/lib/data/ledger.read';
import { appendEntry } from '@/lib/data/ledger.write';
import { lockLesson } from '@/lib/data/lessons.write';
import { readPayer } from '@/lib/data/payers.read';
import { transaction } from '@/lib/data/transaction';
import { LEDGER_REFUSALS, refusalOf } from '@/lib/domain/billing/entry-refusals';
import { isStaff, type Viewer } from '@/lib/domain/people/viewer';
import { CagepostError, notFound } from '@/lib/domain/shared/errors';
import type { LedgerEntryId, LessonId } from '@/lib/domain/shared/ids';
import type { Ports } from './ports';

/** Gives the lesson that a pack paid for back to that pack, once for its id, with a reason. By a coach or lead. */
export async function giveBackPackLesson(
  { clock }: Pick<Ports, 'clock'>,
  viewer: Viewer,
  input: { id: LedgerEntryId; lessonId: LessonId; reason: string },
): Promise<void> {
  if (!isStaff(viewer)) throw notFound('lesson');
  const now = clock.now();
  await transaction(viewer, async (tx) => {
    await lockLesson(viewer, tx, input.lessonId);
    const lines = await listLedger(viewer, input.lessonId, tx);
    if (lines.some((line) => line.id === input.id)) return;
    const payer = await readPayer(viewer, input.lessonId, now, tx);
    const use = lines.find((line) => line.kind === 'pack_use');
    const entry = {
      id: input.id,
      kind: 'correction' as const,
      amountMinor: -(use?.amountMinor ?? 0),
      reason: input.reason.trim(),
      takesBackId: use?.id ?? null,
    };
    const refusal = use && payer ? refusalOf(lines, entry) : 'not-from-pack';
    if (refusal || !use || !payer) {
      const why = refusal ?? 'not-from-pack';
      throw new CagepostError('invalid', LEDGER_REFUSALS[why], { refusal: why });
    }
    await appendEntry(viewer, tx, {
      ...entry,
      lessonId: input.lessonId,
      packId: use.packId,
      payerId: payer.id,
      currency: use.currency,
      at: now,
    });
    await writeAudit(viewer, tx, { action: 'pack.given-back', subject: `lesson:${input.lessonId}` });
  });
}
