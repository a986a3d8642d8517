import type { PromisedTime } from '@/lib/domain/notices/calendar';
import { dateOfDay, dayIn } from '@/lib/domain/people/age';
import { isCleared } from '@/lib/domain/people/clearances';
import { minorsAreBornAfter } from '@/lib/domain/people/safeguarding';
import type { System } from '@/lib/domain/people/viewer';
import { prisma } from './client';
import { tokenHash } from './token-hash';

const AT_MOST = 200;

/**
 * The promised times of whoever holds the secret, in every program where they coach or lead: of the lessons they have,
 * and of those that nobody has yet. Of a minor's only while their checks hold, or as a lead. Null for a secret that is
 * nobody's, or that of somebody who is staff no more.
 */
export async function listPromisedTimes(
  _system: System,
  secret: string,
  now: Date,
): Promise<PromisedTime[] | null> {
  const person = await prisma.person.findUnique({
    where: { calendarKey: tokenHash(secret) },
    select: {
      id: true,
      memberships: {
        where: { role: { in: ['coach', 'lead'] } },
        select: { role: true, program: { select: { id: true, name: true, timeZone: true } } },
      },
      clearances: {
        select: { programId: true, kind: true, issuedOn: true, expiresOn: true, revokedAt: true },
      },
    },
  });
  if (!person || person.memberships.length === 0) return null;
  const programs = new Map(person.memberships.map(({ program }) => [program.id, program]));
  const found: PromisedTime[] = [];
  for (const program of programs.values()) {
    const today = dayIn(program.timeZone, now);
    const isLead = person.memberships.some((one) => one.role === 'lead' && one.program.id === program.id);
    const clearances = person.clearances.filter((one) => one.programId === program.id);
    const seesMinors = isLead || isCleared(clearances, today);
    const rows = await prisma.lesson.findMany({
      where: {
        programId: program.id,
        waitsUntil: { not: null },
        OR: [{ coachId: person.id }, { coachId: null }],
        ...(seesMinors
          ? {}
          : { thread: { player: { birthDate: { lte: dateOfDay(minorsAreBornAfter(today)) } } } }),
      },
      select: {
        id: true,
        number: true,
        coachId: true,
        promisedAt: true,
        thread: { select: { player: { select: { name: true } } } },
      },
      orderBy: [{ waitsUntil: 'asc' }, { id: 'asc' }],
      take: AT_MOST,
    });
    for (const { id, number, coachId, promisedAt, thread } of rows) {
      if (!promisedAt) continue;
      found.push({
        lessonId: id,
        programName: program.name,
        lessonNumber: number ?? 0,
        playerName: thread.player.name,
        isOwn: coachId === person.id,
        promisedAt,
      });
    }
  }
  return found;
}
