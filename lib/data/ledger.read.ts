import { accountOf, type LedgerKind } from '@/lib/domain/billing/ledger';
import { isLead, type Viewer } from '@/lib/domain/people/viewer';
import type { LedgerEntryId, LessonId } from '@/lib/domain/shared/ids';
import { db, prisma, type Tx } from './client';
import { personRef, toPerson } from './select';
import { lessonsVisibleTo } from './visibility';

/** One entry as shown: amounts in minor units of its currency. */
export interface LedgerLine {
  id: LedgerEntryId;
  kind: LedgerKind;
  amountMinor: number;
  currency: string;
  reason: string;
  at: Date;
  by: { id: string; name: string } | null;
}

/** The entries of one lesson in the order they were made; empty when the lesson is not the viewer's to see. */
export async function listLedger(viewer: Viewer, lessonId: LessonId, tx?: Tx): Promise<LedgerLine[]> {
  const rows = await db(tx).ledgerEntry.findMany({
    where: { programId: viewer.programId, lesson: { AND: [{ id: lessonId }, lessonsVisibleTo(viewer)] } },
    select: {
      id: true,
      kind: true,
      amountMinor: true,
      currency: true,
      reason: true,
      at: true,
      actorId: true,
    },
    orderBy: [{ at: 'asc' }, { id: 'asc' }],
  });
  const people = await db(tx).person.findMany({
    where: { id: { in: rows.map((row) => row.actorId) } },
    select: personRef,
  });
  const byId = new Map(people.map((person) => [person.id, toPerson(person)]));
  return rows.map(({ actorId, id, ...row }) => ({
    ...row,
    id: id as LedgerEntryId,
    by: byId.get(actorId) ?? null,
  }));
}

/** For leads: every lesson with something still owed, longest waiting first. Empty for anybody else. */
export async function listOwed(viewer: Viewer) {
  if (!isLead(viewer)) return [];
  const rows = await prisma.lesson.findMany({
    where: {
      AND: [lessonsVisibleTo(viewer), { state: { notIn: ['draft'] }, ledger: { some: { kind: 'charge' } } }],
    },
    select: {
      id: true,
      number: true,
      state: true,
      submittedAt: true,
      currency: true,
      thread: { select: { player: { select: personRef } } },
      ledger: { select: { kind: true, amountMinor: true } },
    },
    orderBy: { submittedAt: 'asc' },
  });
  return rows
    .map((row) => ({
      lessonId: row.id as LessonId,
      number: row.number ?? 0,
      state: row.state,
      submittedAt: row.submittedAt,
      currency: row.currency ?? 'USD',
      player: toPerson(row.thread.player),
      account: accountOf(row.ledger),
    }))
    .filter((row) => row.account.owedMinor > 0);
}
