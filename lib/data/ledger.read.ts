import type { LedgerKind } from '@/lib/domain/billing/ledger';
import type { PayMethod } from '@/lib/domain/billing/methods';
import type { Viewer } from '@/lib/domain/people/viewer';
import type { LedgerEntryId, LessonId, PackId } from '@/lib/domain/shared/ids';
import { db, type Tx } from './client';
import { ledgerFacts, personRef, toPerson } from './select';
import { lessonsVisibleTo } from './visibility';

/** One entry as shown: amounts in minor units of its currency. */
export interface LedgerLine {
  id: LedgerEntryId;
  kind: LedgerKind;
  amountMinor: number;
  currency: string;
  method: PayMethod | null;
  reason: string;
  at: Date;
  packId: PackId | null;
  /** The pack use that this correction gives back. */
  takesBackId: LedgerEntryId | null;
  by: { id: string; name: string } | null;
}

/** The entries of one lesson in the order they were made; empty when the lesson is not the viewer's to see. */
export async function listLedger(viewer: Viewer, lessonId: LessonId, tx?: Tx): Promise<LedgerLine[]> {
  const rows = await db(tx).ledgerEntry.findMany({
    where: { programId: viewer.programId, lesson: { AND: [{ id: lessonId }, lessonsVisibleTo(viewer)] } },
    select: {
      ...ledgerFacts,
      currency: true,
      method: true,
      reason: true,
      at: true,
      packId: true,
      actorId: true,
    },
    orderBy: [{ at: 'asc' }, { id: 'asc' }],
  });
  const people = await db(tx).person.findMany({
    where: { id: { in: rows.map((row) => row.actorId) } },
    select: personRef,
  });
  const byId = new Map(people.map((person) => [person.id, toPerson(person)]));
  return rows.map(({ actorId, id, packId, takesBackId, ...row }) => ({
    ...row,
    id: id as LedgerEntryId,
    packId: packId as PackId | null,
    takesBackId: takesBackId as LedgerEntryId | null,
    by: byId.get(actorId) ?? null,
  }));
}
