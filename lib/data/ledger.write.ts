import type { LedgerKind } from '@/lib/domain/billing/ledger';
import type { PayMethod } from '@/lib/domain/billing/methods';
import { isLead, isStaff, type Viewer } from '@/lib/domain/people/viewer';
import { notFound } from '@/lib/domain/shared/errors';
import type { LedgerEntryId, LessonId, PackId, PersonId } from '@/lib/domain/shared/ids';
import { db, type Tx } from './client';
import { lessonsVisibleTo, packsVisibleTo } from './visibility';

/** One new entry; its id is minted by the client. Amounts in minor units of its currency. */
export interface NewEntry {
  id: LedgerEntryId;
  payerId: PersonId;
  kind: LedgerKind;
  amountMinor: number;
  currency: string;
  method?: PayMethod | null;
  reason: string;
  dueAt?: Date | null;
  at: Date;
}

/** A new entry of a lesson; with a pack for a use of it, or for giving one back. */
export interface NewLessonEntry extends NewEntry {
  lessonId: LessonId;
  packId?: PackId | null;
  takesBackId?: LedgerEntryId | null;
}

type Place = { lessonId: string | null; packId: string | null };

/** Writes the entry unless its id is there already (then `false`). An id that stands elsewhere is refused. */
async function append(viewer: Viewer, tx: Tx, entry: NewEntry & Place & { takesBackId?: string | null }) {
  const known = await db(tx).ledgerEntry.findUnique({
    where: { id: entry.id },
    select: { lessonId: true, packId: true, programId: true },
  });
  if (known) {
    const isSame = known.lessonId === entry.lessonId && known.packId === entry.packId;
    if (!isSame || known.programId !== viewer.programId) throw notFound('ledger entry');
    return false;
  }
  await db(tx).ledgerEntry.create({
    data: { ...entry, programId: viewer.programId, actorId: viewer.personId },
  });
  return true;
}

/**
 * Appends an entry to a lesson, once: the same id again changes nothing and answers `false`. Call after `lockLesson`;
 * an id that stands on another lesson is refused.
 */
export async function appendEntry(viewer: Viewer, tx: Tx, entry: NewLessonEntry): Promise<boolean> {
  const lesson = await db(tx).lesson.findFirst({
    where: { AND: [{ id: entry.lessonId }, lessonsVisibleTo(viewer)] },
    select: { state: true },
  });
  // Sending a lesson charges it, by money or from a pack; taking it back unread ends that claim, whoever does so. All
  // else is the program's.
  const endsClaim = entry.kind === 'waiver' || Boolean(entry.takesBackId);
  const isOfSender =
    entry.kind === 'charge' || entry.kind === 'pack_use' || (endsClaim && lesson?.state === 'withdrawn');
  if (!lesson || (!isStaff(viewer) && !isOfSender)) throw notFound('lesson');
  return append(viewer, tx, { ...entry, packId: entry.packId ?? null });
}

/** Appends an entry to a pack, once for its id. Call after `lockPack`. Leads only. */
export async function appendPackEntry(
  viewer: Viewer,
  tx: Tx,
  entry: NewEntry & { packId: PackId },
): Promise<boolean> {
  const where = { AND: [{ id: entry.packId }, packsVisibleTo(viewer)] };
  if (!isLead(viewer) || (await db(tx).pack.count({ where })) === 0) throw notFound('pack');
  return append(viewer, tx, { ...entry, lessonId: null });
}

/** Appends a refund of what a payer paid too much, once for its id. Call after `lockPayer`. Leads only. */
export async function appendPayerEntry(viewer: Viewer, tx: Tx, entry: NewEntry): Promise<boolean> {
  const where = { programId: viewer.programId, payerId: entry.payerId, lessonId: null, packId: null };
  if (!isLead(viewer) || (await db(tx).balance.count({ where })) === 0) throw notFound('payer');
  return append(viewer, tx, { ...entry, lessonId: null, packId: null });
}

/** Notes how much of a lesson's money is to be given back by the rule of cancellation. Call when it is withdrawn. */
export async function promiseBack(
  viewer: Viewer,
  tx: Tx,
  lessonId: LessonId,
  promisedMinor: number,
): Promise<void> {
  const { count } = await db(tx).balance.updateMany({
    where: { lesson: { AND: [{ id: lessonId, state: 'withdrawn' }, lessonsVisibleTo(viewer)] } },
    data: { promisedMinor },
  });
  if (count === 0) throw notFound('lesson');
}
