import { dateOfDay, dayIn } from '@/lib/domain/people/age';
import { minorsAreBornAfter } from '@/lib/domain/people/safeguarding';
import type { Viewer } from '@/lib/domain/people/viewer';
import type { LessonId } from '@/lib/domain/shared/ids';
import { prisma } from './client';
import { Prisma } from './generated/client';

/**
 * The waiting lessons of the program that `careReasons` has something to say about. By hand: as one condition of the
 * desk's query the planner reads every person of the program for it.
 */
export async function careIdsOf(viewer: Viewer, now: Date): Promise<LessonId[]> {
  const { timeZone } = await prisma.program.findUniqueOrThrow({
    where: { id: viewer.programId },
    select: { timeZone: true },
  });
  // Somebody comes of age on the program's own day. An unknown birth date is treated as a minor's.
  const today = dayIn(timeZone, now);
  const minorAfter = dateOfDay(minorsAreBornAfter(today));
  // The latest consent to lessons of each verified guardian.
  const latest = Prisma.sql`(SELECT DISTINCT ON (given."byId") given."withdrawnAt", given."expiresAt" FROM "Consent" given
    JOIN "Guardianship" g ON g."guardianId" = given."byId" AND g."playerId" = given."playerId"
    WHERE given."playerId" = player.id AND given."programId" = ${viewer.programId}::uuid
      AND given.scope = 'lessons' AND g."verifiedAt" IS NOT NULL
    ORDER BY given."byId", given."givenAt" DESC) c`;
  const rows = await prisma.$queryRaw<{ id: string }[]>`
    SELECT lesson.id FROM "Lesson" lesson
    JOIN "Thread" thread ON thread.id = lesson."threadId"
    JOIN "Person" player ON player.id = thread."playerId"
    WHERE lesson."programId" = ${viewer.programId}::uuid AND lesson.state IN ('submitted', 'in_review')
      AND (lesson."painLevel" > 0
        OR EXISTS (SELECT 1 FROM "Clip" clip
          WHERE clip."lessonId" = lesson.id AND clip."removedAt" IS NULL AND clip.state = 'failed')
        OR ((player."birthDate" IS NULL OR player."birthDate" > ${minorAfter}::date)
          AND (NOT EXISTS (SELECT 1 FROM "Guardianship" g
              WHERE g."playerId" = player.id AND g."verifiedAt" IS NOT NULL)
            OR EXISTS (SELECT 1 FROM "Guardianship" g
              WHERE g."playerId" = player.id AND g."pausedAt" IS NOT NULL)
            OR NOT EXISTS (SELECT 1 FROM ${latest} WHERE c."withdrawnAt" IS NULL
              AND (c."expiresAt" IS NULL OR (c."expiresAt" AT TIME ZONE 'UTC')::date > ${dateOfDay(today)}::date))
            OR EXISTS (SELECT 1 FROM ${latest} WHERE c."withdrawnAt" IS NOT NULL))))`;
  return rows.map(({ id }) => id as LessonId);
}
