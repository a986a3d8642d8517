import { isStaff, type Viewer } from '@/lib/domain/people/viewer';
import type { PersonId } from '@/lib/domain/shared/ids';
import { prisma } from './client';
import { personRef, toBirthDate } from './select';
import { playersVisibleTo } from './visibility';

/** A player of the program as one line of the list. */
export interface PlayerLine {
  id: PersonId;
  name: string;
  birthDate: string | null;
  guardians: { verifiedAt: Date | null; pausedAt: Date | null }[];
  lessonCount: number;
  lastSentAt: Date | null;
  fixFirst: string | null;
}

/** The players of the viewer's program by name, for staff; empty for anybody else. */
export async function listPlayers(viewer: Viewer): Promise<PlayerLine[]> {
  if (!isStaff(viewer)) return [];
  const rows = await prisma.person.findMany({
    where: playersVisibleTo(viewer),
    select: {
      ...personRef,
      birthDate: true,
      guardians: { select: { verifiedAt: true, pausedAt: true } },
      threads: {
        where: { programId: viewer.programId },
        select: {
          _count: { select: { lessons: { where: { state: { not: 'draft' } } } } },
          lessons: {
            where: { state: { not: 'draft' } },
            select: {
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
    take: 500,
  });
  return rows.map((row) => {
    const [thread] = row.threads;
    const [latest] = thread?.lessons ?? [];
    return {
      id: row.id as PersonId,
      name: row.name,
      birthDate: toBirthDate(row.birthDate),
      guardians: row.guardians,
      lessonCount: thread?._count.lessons ?? 0,
      lastSentAt: latest?.submittedAt ?? null,
      fixFirst: latest?.returns[0]?.fixFirst ?? null,
    };
  });
}
