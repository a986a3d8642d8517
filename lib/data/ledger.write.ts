import type { LedgerKind } from '@/lib/domain/billing/ledger';
import { isStaff, type Viewer } from '@/lib/domain/people/viewer';
import { notFound } from '@/lib/domain/shared/errors';
import type { LedgerEntryId, LessonId } from '@/lib/domain/shared/ids';
import { db, type Tx } from './client';
import { lessonsVisibleTo } from './visibility';

/** One new entry; its id is minted by the client. */
export interface NewEntry {
  id: LedgerEntryId;
  lessonId: LessonId;
  kind: LedgerKind;
  amountMinor: number;
  currency: string;
  reason: string;
  at: Date;
}

/**
 * Appends an entry, once: the same id again changes nothing and answers `false`. Call after `lockLesson`; an id that
 * stands on another lesson is refused.
 */
export async function appendEntry(viewer: Viewer, tx: Tx, entry: NewEntry): Promise<boolean> {
  const lesson = await db(tx).lesson.findFirst({
    where: { AND: [{ id: entry.lessonId }, lessonsVisibleTo(viewer)] },
    select: { state: true },
  });
  // Sending a lesson charges it, taking it back unread ends that claim, whoever does so; all else is the program's.
  const isOfSender = entry.kind === 'charge' || (entry.kind === 'waiver' && lesson?.state === 'withdrawn');
  if (!lesson || (!isStaff(viewer) && !isOfSender)) throw notFound('lesson');
  const known = await db(tx).ledgerEntry.findUnique({ where: { id: entry.id }, select: { lessonId: true } });
  if (known) {
    if (known.lessonId !== entry.lessonId) throw notFound('ledger entry');
    return false;
  }
  await db(tx).ledgerEntry.create({
    data: { ...entry, programId: viewer.programId, actorId: viewer.personId },
  });
  return true;
}
