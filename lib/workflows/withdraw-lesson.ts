import { v7 as uuid } from 'uuid';
import { writeAudit } from '@/lib/data/audit.write';
import { appendEntry } from '@/lib/data/ledger.write';
import { listLedger } from '@/lib/data/ledger.read';
import { appendLessonEvent, lockLesson } from '@/lib/data/lessons.write';
import { transaction } from '@/lib/data/transaction';
import { accountOf } from '@/lib/domain/billing/ledger';
import type { Viewer } from '@/lib/domain/people/viewer';
import { notFound } from '@/lib/domain/shared/errors';
import type { LedgerEntryId, LessonId } from '@/lib/domain/shared/ids';
import type { Ports } from './ports';

/**
 * Takes a lesson back before it was returned, by its sender's side. What is still owed for it is waived when no
 * coach had taken it; what was paid stays in the ledger until the program refunds it.
 */
export async function withdrawLesson(
  { clock }: Pick<Ports, 'clock'>,
  viewer: Viewer,
  input: { lessonId: LessonId; reason: string },
): Promise<void> {
  const now = clock.now();
  await transaction(viewer, async (tx) => {
    const lesson = await lockLesson(viewer, tx, input.lessonId);
    if (!lesson.isOwn) throw notFound('lesson');
    await appendLessonEvent(viewer, tx, input.lessonId, {
      kind: 'withdrawn',
      at: now,
      reason: input.reason || null,
    });
    const lines = await listLedger(viewer, input.lessonId, tx);
    const { owedMinor } = accountOf(lines);
    const [first] = lines;
    if (lesson.state === 'submitted' && owedMinor > 0 && first) {
      await appendEntry(viewer, tx, {
        id: uuid() as LedgerEntryId,
        lessonId: input.lessonId,
        kind: 'waiver',
        amountMinor: owedMinor,
        currency: first.currency,
        reason: 'Withdrawn before a coach took it.',
        at: now,
      });
    }
    await writeAudit(viewer, tx, { action: 'lesson.withdrawn', subject: `lesson:${input.lessonId}` });
  });
}
