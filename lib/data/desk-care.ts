import { dateOfDay, dayIn } from '@/lib/domain/people/age';
import { minorsAreBornAfter } from '@/lib/domain/people/safeguarding';
import type { Viewer } from '@/lib/domain/people/viewer';
import type { LessonId } from '@/lib/domain/shared/ids';
import { prisma } from './client';

/**
 * The waiting lessons of the program that `careReasons` has something to say about. By hand, and each question as a
 * subquery of its own row: as a join, or as EXISTS, the planner reads every thread and person of the program for it.
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
        OR (SELECT (thread."guardsUntil" IS NULL
                OR (thread."guardsUntil" AT TIME ZONE 'UTC')::date <= ${dateOfDay(today)}::date)
              AND (SELECT player."birthDate" IS NULL OR player."birthDate" > ${minorAfter}::date
                FROM "Person" player WHERE player.id = thread."playerId")
            FROM "Thread" thread WHERE thread.id = lesson."threadId"))`;
  return rows.map(({ id }) => id as LessonId);
}
