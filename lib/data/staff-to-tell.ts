import type { Day } from '@/lib/domain/people/age';
import { isCleared } from '@/lib/domain/people/clearances';
import { db, type Tx } from './client';

/** Somebody with an address. */
export interface Reached {
  personId: string;
  email: string;
}

/**
 * The coach of a lesson, or all coaches and leads of the program when it has none or its coach cannot be reached any
 * more. Of a minor's lesson only leads, and coaches whose checks hold on `today`.
 */
export async function staffToTell(
  tx: Tx | undefined,
  programId: string,
  { coachId, isMinors, today }: { coachId: string | null; isMinors: boolean; today: Day },
): Promise<Reached[]> {
  const people = await db(tx).person.findMany({
    where: {
      email: { not: null },
      memberships: { some: { programId, role: { in: ['coach', 'lead'] } } },
    },
    select: {
      id: true,
      email: true,
      memberships: { where: { programId, role: 'lead' }, select: { role: true } },
      clearances: {
        where: { programId },
        select: { kind: true, issuedOn: true, expiresOn: true, revokedAt: true },
      },
    },
    orderBy: { email: 'asc' },
  });
  const open = people.filter(
    (person) => !isMinors || person.memberships.length > 0 || isCleared(person.clearances, today),
  );
  const coach = open.filter((person) => person.id === coachId);
  return (coach.length > 0 ? coach : open).flatMap(({ id, email }) =>
    email ? [{ personId: id, email }] : [],
  );
}
