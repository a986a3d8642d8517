import { payerOf } from '@/lib/domain/billing/payer';
import type { PersonRef } from '@/lib/domain/lessons/lesson';
import { dayIn, dayOfDate } from '@/lib/domain/people/age';
import { isMinor } from '@/lib/domain/people/safeguarding';
import { isLead, type Viewer } from '@/lib/domain/people/viewer';
import type { LessonId, PersonId } from '@/lib/domain/shared/ids';
import { db, type Tx } from './client';
import type { Prisma } from './generated/client';
import { idsByName } from './names';
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

const MOST_PAYERS = 200;

/**
 * For leads: who of the program can be sold a pack, by name: guardians, and players who are grown up; 200 of each are
 * looked at, of those whose name holds all the words of `find`. `hasMore` says that there are others.
 */
export async function listPayers(
  viewer: Viewer,
  now: Date,
  find = '',
  tx?: Tx,
): Promise<{ rows: Payer[]; hasMore: boolean }> {
  if (!isLead(viewer)) return { rows: [], hasMore: false };
  const { programId } = viewer;
  const { timeZone } = await db(tx).program.findUniqueOrThrow({
    where: { id: programId },
    select: { timeZone: true },
  });
  const ids = find.trim() ? await idsByName(viewer, find, ['guardian', 'player'], MOST_PAYERS) : null;
  const of = (role: 'guardian' | 'player') =>
    db(tx).membership.findMany({
      where: { programId, role, ...(ids ? { personId: { in: ids } } : {}) },
      select: { person: { select: payerFacts } },
      orderBy: [{ sortName: 'asc' }, { personId: 'asc' }],
      take: MOST_PAYERS + 1,
    });
  const [guardians, players] = [await of('guardian'), await of('player')];
  const isGuardian = new Set(guardians.map(({ person }) => person.id));
  const everybody = [
    ...guardians.slice(0, MOST_PAYERS).map(({ person }) => toPayer(person, false, now, timeZone)),
    ...players
      .slice(0, MOST_PAYERS)
      .filter(({ person }) => !isGuardian.has(person.id))
      .map(({ person }) => toPayer(person, true, now, timeZone)),
  ];
  return {
    rows: everybody.filter((payer) => !payer.isMinor).sort((a, b) => (a.name < b.name ? -1 : 1)),
    hasMore: guardians.length > MOST_PAYERS || players.length > MOST_PAYERS,
  };
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
