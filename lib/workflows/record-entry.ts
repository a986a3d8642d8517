import { writeAudit } from '@/lib/data/audit.write';
import { listLedger } from '@/lib/data/ledger.read';
import { appendEntry } from '@/lib/data/ledger.write';
import { readLesson } from '@/lib/data/lessons.read';
import { lockLesson } from '@/lib/data/lessons.write';
import { transaction } from '@/lib/data/transaction';
import { LEDGER_REFUSALS, refusalOf } from '@/lib/domain/billing/ledger';
import { isStaff, type Viewer } from '@/lib/domain/people/viewer';
import { CagepostError, notFound } from '@/lib/domain/shared/errors';
import type { LedgerEntryId, LessonId } from '@/lib/domain/shared/ids';
import type { Ports } from './ports';

/** The kinds that staff record by hand. */
export type RecordedKind = 'payment' | 'waiver' | 'refund' | 'correction';

/** Appends a payment, waiver, refund or correction to a lesson's ledger, once for its id. By a coach or lead. */
export async function recordEntry(
  { clock }: Pick<Ports, 'clock'>,
  viewer: Viewer,
  input: { id: LedgerEntryId; lessonId: LessonId; kind: RecordedKind; amountMinor: number; reason: string },
): Promise<void> {
  if (!isStaff(viewer)) throw notFound('lesson');
  await transaction(viewer, async (tx) => {
    // The lock makes two windows wait for each other: the second sees what the first recorded.
    await lockLesson(viewer, tx, input.lessonId);
    const lesson = await readLesson(viewer, input.lessonId, tx);
    if (!lesson) throw notFound('lesson');
    const lines = await listLedger(viewer, input.lessonId, tx);
    if (lines.some((line) => line.id === input.id)) return;
    const refusal = refusalOf(lines, input);
    if (refusal) throw new CagepostError('invalid', LEDGER_REFUSALS[refusal], { refusal });
    await appendEntry(viewer, tx, {
      ...input,
      reason: input.reason.trim(),
      currency: lesson.price?.currency ?? lesson.program.currency,
      at: clock.now(),
    });
    await writeAudit(viewer, tx, {
      action: `ledger.${input.kind}`,
      subject: `lesson:${input.lessonId}`,
      data: { entry: input.id, amountMinor: input.amountMinor },
    });
  });
}
