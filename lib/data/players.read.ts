import type { ConsentTerms } from '@/lib/domain/consents/consent';
import { isStaff, type Viewer } from '@/lib/domain/people/viewer';
import type { PersonId } from '@/lib/domain/shared/ids';
import { prisma } from './client';
import type { Prisma } from './generated/client';
import { afterName } from './keyset';
import { consentOf, lessonConsents } from './lesson-consents';
import { personRef, toBirthDate } from './select';
import { playersVisibleTo } from './visibility';

/** A player of the program as one line of the list. */
export interface PlayerLine {
  id: PersonId;
  name: string;
  birthDate: string | null;
  guardians: { verifiedAt: Date | null; pausedAt: Date | null; consent: ConsentTerms | null }[];
  lessonCount: number;
  lastSentAt: Date | null;
  fixFirst: string | null;
}

const playerLine = (programId: string) =>
  ({
    ...personRef,
    birthDate: true,
    guardians: { select: { guardianId: true, verifiedAt: true, pausedAt: true } },
    consents: lessonConsents(programId),
  }) satisfies Prisma.PersonSelect;

interface Latest {
  playerId: string;
  number: number;
  submittedAt: Date | null;
  fixFirst: string | null;
}

// By hand: of a nested list Prisma reads every row and takes the first of them afterwards.
async function latestOf(viewer: Viewer, playerIds: string[]): Promise<ReadonlyMap<string, Latest>> {
  const rows = await prisma.$queryRaw<Latest[]>`
    SELECT thread."playerId", latest.number, latest."submittedAt",
      (SELECT "fixFirst" FROM "Return" WHERE "lessonId" = latest.id ORDER BY number DESC LIMIT 1) AS "fixFirst"
    FROM "Thread" thread, LATERAL (SELECT id, number, "submittedAt" FROM "Lesson"
      WHERE "threadId" = thread.id AND number IS NOT NULL ORDER BY number DESC LIMIT 1) latest
    WHERE thread."programId" = ${viewer.programId}::uuid AND thread."playerId" = ANY(${playerIds}::uuid[])`;
  return new Map(rows.map((row) => [row.playerId, row]));
}

/**
 * The players of the viewer's program by name, at most `take` after the one named `after`, for staff; empty for
 * anybody else.
 */
export async function listPlayers(
  viewer: Viewer,
  { after, take = 50 }: { after?: PersonId; take?: number } = {},
): Promise<{ rows: PlayerLine[]; hasMore: boolean }> {
  if (!isStaff(viewer)) return { rows: [], hasMore: false };
  const mine = { programId: viewer.programId, role: 'player' } as const;
  const last = after
    ? await prisma.membership.findUnique({
        where: { programId_personId_role: { ...mine, personId: after } },
        select: { sortName: true },
      })
    : null;
  const rows = await prisma.membership.findMany({
    where: {
      ...mine,
      ...afterName(last && { name: last.sortName, id: after ?? '' }),
      person: playersVisibleTo(viewer),
    },
    select: { person: { select: playerLine(viewer.programId) } },
    orderBy: [{ sortName: 'asc' }, { personId: 'asc' }],
    take: take + 1,
  });
  const page = rows.slice(0, take).map(({ person }) => person);
  const lessons = await latestOf(
    viewer,
    page.map(({ id }) => id),
  );
  return { rows: page.map(toLine), hasMore: rows.length > take };

  function toLine(row: Prisma.PersonGetPayload<{ select: ReturnType<typeof playerLine> }>): PlayerLine {
    const latest = lessons.get(row.id);
    return {
      id: row.id as PersonId,
      name: row.name,
      birthDate: toBirthDate(row.birthDate),
      guardians: row.guardians.map(({ guardianId, ...one }) => ({
        ...one,
        consent: consentOf(row.consents, guardianId),
      })),
      // Lessons are numbered as they are sent.
      lessonCount: latest?.number ?? 0,
      lastSentAt: latest?.submittedAt ?? null,
      fixFirst: latest?.fixFirst ?? null,
    };
  }
}
