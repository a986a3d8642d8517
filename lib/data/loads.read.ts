import { ownHoursSchema } from '@/lib/domain/desk/hours';
import type { CoachLoad } from '@/lib/domain/desk/load';
import { dayIn } from '@/lib/domain/people/age';
import { isCleared } from '@/lib/domain/people/clearances';
import { isStaff, type Viewer } from '@/lib/domain/people/viewer';
import { prisma } from './client';
import { toPerson } from './select';

/** So many of a coach's latest lessons tell the pace. */
const LATEST = 8;

/**
 * What lies with each coach and lead of the program, by name, and how their latest went. "Due today" is what is promised
 * before `endOfDay`. Empty for anybody who is not staff.
 */
export async function listLoads(
  viewer: Viewer,
  { now, endOfDay }: { now: Date; endOfDay: Date },
): Promise<CoachLoad[]> {
  if (!isStaff(viewer)) return [];
  const { programId } = viewer;
  const people = await prisma.person.findMany({
    where: { memberships: { some: { programId, role: { in: ['coach', 'lead'] } } } },
    select: {
      id: true,
      name: true,
      clearances: {
        where: { programId },
        select: { kind: true, issuedOn: true, expiresOn: true, revokedAt: true },
      },
      coachHours: { where: { programId }, select: { hours: true, promiseHours: true } },
    },
    orderBy: [{ name: 'asc' }, { id: 'asc' }],
  });
  const ids = people.map(({ id }) => id);
  const [program, counts, returned] = await Promise.all([
    prisma.program.findUniqueOrThrow({ where: { id: programId }, select: { timeZone: true } }),
    prisma.$queryRaw<{ id: string; waiting: number; inReview: number; overdue: number; dueToday: number }[]>`
      SELECT "coachId" AS id, count(*) FILTER (WHERE state = 'submitted')::int AS waiting,
        count(*) FILTER (WHERE state = 'in_review')::int AS "inReview",
        count(*) FILTER (WHERE "promisedAt" < ${now})::int AS overdue,
        count(*) FILTER (WHERE "promisedAt" >= ${now} AND "promisedAt" < ${endOfDay})::int AS "dueToday"
      FROM "Lesson"
      WHERE "programId" = ${programId}::uuid AND "waitsUntil" IS NOT NULL AND "coachId" IS NOT NULL
      GROUP BY "coachId"`,
    prisma.$queryRaw<{ id: string; submittedAt: Date; takenAt: Date | null; returnedAt: Date }[]>`
      SELECT coach.id, latest."submittedAt", latest."returnedAt",
        (SELECT max(event.at) FROM "LessonEvent" event
          WHERE event."lessonId" = latest.id AND event.kind = 'taken') AS "takenAt"
      FROM unnest(${ids}::uuid[]) coach (id) CROSS JOIN LATERAL (
        SELECT id, "submittedAt", "returnedAt" FROM "Lesson"
        WHERE "coachId" = coach.id AND "programId" = ${programId}::uuid AND "returnedAt" IS NOT NULL
          AND "submittedAt" IS NOT NULL
        ORDER BY "returnedAt" DESC LIMIT ${LATEST}) latest`,
  ]);
  const today = dayIn(program.timeZone, now);
  const nothing = { waiting: 0, inReview: 0, overdue: 0, dueToday: 0 };
  return people.map(({ clearances, coachHours: [terms], ...person }) => {
    const { waiting, inReview, overdue, dueToday } = counts.find(({ id }) => id === person.id) ?? nothing;
    return {
      ...toPerson(person),
      waiting,
      inReview,
      overdue,
      dueToday,
      returned: returned
        .filter(({ id }) => id === person.id)
        .map(({ submittedAt, takenAt, returnedAt }) => ({ submittedAt, takenAt, returnedAt })),
      isCleared: isCleared(clearances, today),
      own: ownHoursSchema.nullable().parse(terms?.hours ?? null),
      promiseHours: terms?.promiseHours ?? null,
    };
  });
}
