import type { ConsentTerms } from '@/lib/domain/consents/consent';
import { isStaff, type Viewer } from '@/lib/domain/people/viewer';
import type { PersonId } from '@/lib/domain/shared/ids';
import { prisma } from './client';
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

/**
 * The players of the viewer's program by name, at most `take` after the one named `after`, for staff; empty for
 * anybody else.
 */
export async function listPlayers(
  viewer: Viewer,
  { after, take = 50 }: { after?: PersonId; take?: number } = {},
): Promise<{ rows: PlayerLine[]; hasMore: boolean }> {
  if (!isStaff(viewer)) return { rows: [], hasMore: false };
  const rows = await prisma.person.findMany({
    where: playersVisibleTo(viewer),
    select: {
      ...personRef,
      birthDate: true,
      guardians: { select: { guardianId: true, verifiedAt: true, pausedAt: true } },
      consents: lessonConsents(viewer.programId),
      threads: {
        where: { programId: viewer.programId },
        select: {
          lessons: {
            where: { number: { not: null } },
            select: {
              number: true,
              submittedAt: true,
              returns: { select: { fixFirst: true }, orderBy: { number: 'desc' }, take: 1 },
            },
            orderBy: { number: 'desc' },
            take: 1,
          },
        },
      },
    },
    orderBy: [{ name: 'asc' }, { id: 'asc' }],
    take: take + 1,
    ...(after ? { cursor: { id: after }, skip: 1 } : {}),
  });
  return { rows: rows.slice(0, take).map(toLine), hasMore: rows.length > take };

  function toLine(row: (typeof rows)[number]): PlayerLine {
    const [latest] = row.threads[0]?.lessons ?? [];
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
      fixFirst: latest?.returns[0]?.fixFirst ?? null,
    };
  }
}
