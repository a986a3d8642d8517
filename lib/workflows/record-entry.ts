import { writeAudit } from '@/lib/data/audit.write';
import { listLedger } from '@/lib/data/ledger.read';
import { appendEntry } from '@/lib/data/ledger.write';
import { readLesson } from '@/lib/data/lessons.read';
import { lockLesson } from '@/lib/data/lessons.write';
import { readPayer } from '@/lib/data/payers.read';
import { transaction } from '@/lib/data/transaction';
import { LEDGER_REFUSALS, refusalOf } from '@/lib/domain/billing/entry-refusals';
import { accountOf } from '@/lib/domain/billing/ledger';
import { METHOD_WORD, type PayMethod } from '@/lib/domain/billing/methods';
import { isStaff, type Viewer } from '@/lib/domain/people/viewer';
import { CagepostError, notFound } from '@/lib/domain/shared/errors';
import type { LedgerEntryId, LessonId } from '@/lib/domain/shared/ids';
import { lessonLabel } from './charge-lesson';
import { issueDocument } from './issue-document';
import type { Ports } from './ports';

/** The kinds that staff record by hand. */
export type RecordedKind = 'payment' | 'waiver' | 'refund' | 'correction';

/** One entry as staff write it; its id is minted by the browser. Amount in minor units of the lesson's currency. */
export interface Recorded {
  id: LedgerEntryId;
  kind: RecordedKind;
  amountMinor: number;
  reason: string;
  method?: PayMethod | null;
}

/**
 * Appends a payment, waiver, refund or correction to a lesson's ledger, once for its id, with a receipt or a credit
 * note where money moved. By a coach or lead.
 */
export async function recordEntry(
  { clock, queue }: Pick<Ports, 'clock' | 'queue'>,
  viewer: Viewer,
  input: Recorded & { lessonId: LessonId },
): Promise<void> {
  if (!isStaff(viewer)) throw notFound('lesson');
  const now = clock.now();
  const { lessonId, ...entry } = input;
  await transaction(viewer, async (tx) => {
    // The lock makes two windows wait for each other: the second sees what the first recorded.
    await lockLesson(viewer, tx, lessonId);
    const lesson = await readLesson(viewer, lessonId, tx);
    const payer = await readPayer(viewer, lessonId, now, tx);
    if (!lesson || !payer) throw notFound('lesson');
    const lines = await listLedger(viewer, lessonId, tx);
    if (lines.some((line) => line.id === entry.id)) return;
    const refusal = refusalOf(lines, entry);
    if (refusal) throw new CagepostError('invalid', LEDGER_REFUSALS[refusal], { refusal });
    const reason = entry.reason.trim();
    const movesMoney = entry.kind === 'payment' || entry.kind === 'refund';
    const method = movesMoney ? (entry.method ?? null) : null;
    const currency = lesson.price?.currency ?? lesson.program.currency;
    await appendEntry(viewer, tx, {
      ...entry,
      lessonId,
      payerId: payer.id,
      method,
      reason,
      currency,
      at: now,
    });
    await writeAudit(viewer, tx, {
      action: `ledger.${entry.kind}`,
      subject: `lesson:${lessonId}`,
      data: { entry: entry.id, amountMinor: entry.amountMinor },
    });
    if (!movesMoney) return;
    await issueDocument(viewer, tx, {
      program: lesson.program,
      payer,
      now,
      saying: {
        entryId: entry.id,
        kind: entry.kind === 'payment' ? 'receipt' : 'credit_note',
        label: lessonLabel(lesson.price?.label ?? '', lesson.number),
        amountMinor: entry.amountMinor,
        currency,
        method: method && METHOD_WORD[method],
        reason: entry.kind === 'refund' ? reason : '',
        stillOwedMinor: accountOf([...lines, entry]).owedMinor,
        policy: lesson.program.policy,
      },
    });
    await queue.drainOutbox(tx);
  });
}
