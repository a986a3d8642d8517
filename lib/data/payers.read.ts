import { payerOf } from '@/lib/domain/billing/payer';
import type { PersonRef } from '@/lib/domain/lessons/lesson';
import { dayIn, dayOfDate } from '@/lib/domain/people/age';
import { isMinor } from '@/lib/domain/people/safeguarding';
import { isLead, type Viewer } from '@/lib/domain/people/viewer';
import type { LessonId, PersonId } from '@/lib/domain/shared/ids';
import { db, prisma, type Tx } from './client';
import type { Prisma } from './generated/client';
import { personRef, toPerson } from './select';
import { lessonsVisibleTo } from './visibility';

/** Who pays, and how to tell them: no address for a child. */
export interface Payer extends PersonRef {
  email: string | null;
  isMinor: boolean;
}

const payerFacts = { ...personRef, email: true, birthDate: true } satisfies Prisma.PersonSelect;

type PayerRow = Prisma.PersonGetPayload<{ select: typeof payerFacts }>;

// A guardian has no birth date here and is grown up; a player without one counts as a minor.
const toPayer = (row: PayerRow, isPlayer: boolean, now: Date, timeZone: string): Payer => {
  const birthDate = row.birthDate && dayOfDate(row.birthDate);
  return {
    ...toPerson(row),
    email: row.email,
    isMinor: isPlayer && isMinor({ birthDate }, dayIn(timeZone, now)),
  };
};

/** Who pays for a lesson: whoever its first entry named, else by the rule of `payerOf`. Null when it is not the viewer's to see. */
export async function readPayer(
  viewer: Viewer,
  lessonId: LessonId,
  now: Date,
  tx?: Tx,
): Promise<Payer | null> {
  const row = await db(tx).lesson.findFirst({
    where: { AND: [{ id: lessonId }, lessonsVisibleTo(viewer)] },
    select: {
      program: { select: { timeZone: true } },
      startedById: true,
      balance: { select: { payerId: true } },
      thread: {
        select: {
          player: {
            select: {
              id: true,
              birthDate: true,
              guardians: {
                where: { verifiedAt: { not: null } },
                select: { guardianId: true },
                orderBy: [{ verifiedAt: 'asc' }, { guardianId: 'asc' }],
              },
            },
          },
        },
      },
    },
  });
  if (!row) return null;
  const { player } = row.thread;
  const { timeZone } = row.program;
  const facts = {
    senderId: row.startedById,
    player: { id: player.id, birthDate: player.birthDate && dayOfDate(player.birthDate) },
    guardianIds: player.guardians.map((one) => one.guardianId),
  };
  const id = row.balance?.payerId ?? payerOf(facts, dayIn(timeZone, now));
  const payer = await db(tx).person.findUniqueOrThrow({ where: { id }, select: payerFacts });
  return toPayer(payer, payer.id === player.id, now, timeZone);
}

/** For leads: everybody of the program who can be sold a pack, by name: guardians, and players who are grown up. */
export async function listPayers(viewer: Viewer, now: Date, tx?: Tx): Promise<Payer[]> {
  if (!isLead(viewer)) return [];
  const { timeZone } = await db(tx).program.findUniqueOrThrow({
    where: { id: viewer.programId },
    select: { timeZone: true },
  });
  const rows = await prisma.person.findMany({
    where: {
      memberships: { some: { programId: viewer.programId, role: { in: ['player', 'guardian'] } } },
    },
    select: {
      ...payerFacts,
      memberships: { where: { programId: viewer.programId }, select: { role: true } },
    },
    orderBy: [{ name: 'asc' }, { id: 'asc' }],
  });
  const everybody = rows.map((row) =>
    toPayer(row, !row.memberships.some((one) => one.role === 'guardian'), now, timeZone),
  );
  return everybody.filter((payer) => !payer.isMinor);
}

/** For leads: one payer of the program as told of a document; null when there is no such person in it. */
export async function readPayerOf(
  viewer: Viewer,
  payerId: PersonId,
  now: Date,
  tx?: Tx,
): Promise<Payer | null> {
  if (!isLead(viewer)) return null;
  const row = await db(tx).person.findFirst({
    where: { id: payerId, memberships: { some: { programId: viewer.programId } } },
    select: {
      ...payerFacts,
      memberships: {
        where: { programId: viewer.programId },
        select: { role: true, program: { select: { timeZone: true } } },
      },
    },
  });
  if (!row) return null;
  const isPlayer = !row.memberships.some((one) => one.role !== 'player');
  return toPayer(row, isPlayer, now, row.memberships[0]?.program.timeZone ?? 'UTC');
}
