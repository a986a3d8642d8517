import { dateOfDay, dayIn } from '@/lib/domain/people/age';
import { minorsAreBornAfter } from '@/lib/domain/people/safeguarding';
import type { Viewer } from '@/lib/domain/people/viewer';
import type { LessonId } from '@/lib/domain/shared/ids';
import { prisma } from './client';

/**
 * The waiting lessons of the program that `careReasons` has something to say about. By hand, and each question as a
 * subquery of its own row: as a join, or as EXISTS, the planner reads every person and guardian of the program for it.
 */
export async function careIdsOf(viewer: Viewer, now: Date): Promise<LessonId[]> {
  const { timeZone } = await prisma.program.findUniqueOrThrow({
    where: { id: viewer.programId },
    select: { timeZone: true },
  });
  // Somebody comes of age on the program's own day. An unknown birth date is treated as a minor's.
  const today = dayIn(timeZone, now);
  const minorAfter = dateOfDay(minorsAreBornAfter(today));
  const rows = await prisma.$queryRaw<{ id: string }[]>`
    SELECT lesson.id FROM "Lesson" lesson
    WHERE lesson."programId" = ${viewer.programId}::uuid AND lesson."waitsUntil" IS NOT NULL
      AND (lesson."painLevel" > 0
        OR (SELECT true FROM "Clip" clip
          WHERE clip."lessonId" = lesson.id AND clip."removedAt" IS NULL AND clip.state = 'failed' LIMIT 1)
        OR (SELECT (player."birthDate" IS NULL OR player."birthDate" > ${minorAfter}::date)
              AND (SELECT coalesce(bool_or(g."pausedAt" IS NOT NULL), false)
                  OR coalesce(bool_or(given.is_withdrawn), false)
                  OR NOT coalesce(bool_or(given.holds), false)
                FROM "Guardianship" g
                -- The latest consent to lessons of each verified guardian.
                LEFT JOIN LATERAL (SELECT c."withdrawnAt" IS NOT NULL AS is_withdrawn,
                    c."withdrawnAt" IS NULL AND (c."expiresAt" IS NULL
                      OR (c."expiresAt" AT TIME ZONE 'UTC')::date > ${dateOfDay(today)}::date) AS holds
                  FROM "Consent" c WHERE c."playerId" = player.id AND c.scope = 'lessons' AND c."byId" = g."guardianId"
                    AND c."programId" = ${viewer.programId}::uuid AND g."verifiedAt" IS NOT NULL
                  ORDER BY c."givenAt" DESC LIMIT 1) given ON true
                WHERE g."playerId" = player.id)
            FROM "Thread" thread JOIN "Person" player ON player.id = thread."playerId"
            WHERE thread.id = lesson."threadId"))`;
  return rows.map(({ id }) => id as LessonId);
}
