import { dateOfDay, dayOfDate, type Day } from '@/lib/domain/people/age';
import { isLead, isStaff, sendsFor, type Role, type Viewer } from '@/lib/domain/people/viewer';
import type { PersonId } from '@/lib/domain/shared/ids';
import { prisma } from './client';
import { Prisma } from './generated/client';
import { type GuardianCard, guardianCards, toGuardian } from './guardian-cards';
import { afterName } from './keyset';
import { lessonConsents } from './lesson-consents';
import { idsByName } from './names';
import { peopleVisibleTo } from './visibility';

/** A person as the people page shows them. */
export interface PersonCard {
  personId: PersonId;
  name: string;
  /** For leads only; null for others and for people without one. */
  email: string | null;
  roles: Role[];
  /** Of players only: of others the page has no use for it. */
  birthDate: Day | null;
  guardians: GuardianCard[];
}

/** One page of people; `next` is the `after` of the following one, null at the end. */
export interface PeoplePage {
  rows: PersonCard[];
  next: PersonId | null;
}

type Go = { after?: PersonId | null; take?: number };
const DAY_MS = 86_400_000;
const NOBODY: PeoplePage = { rows: [], next: null };

// A place is somebody's id and not their name: names of children do not belong into addresses.
async function placeOf(viewer: Viewer, after: PersonId | null) {
  if (after === null) return null;
  const row = await prisma.membership.findFirst({
    where: { programId: viewer.programId, personId: after, person: peopleVisibleTo(viewer) },
    select: { sortName: true },
  });
  return row && { name: row.sortName, id: after };
}

async function cardsOf(viewer: Viewer, ids: readonly string[]): Promise<PersonCard[]> {
  const rows = await prisma.person.findMany({
    where: { AND: [{ id: { in: [...ids] } }, peopleVisibleTo(viewer)] },
    select: {
      id: true,
      name: true,
      email: true,
      birthDate: true,
      memberships: { where: { programId: viewer.programId }, select: { role: true } },
      guardians: guardianCards,
      consents: lessonConsents(viewer.programId),
    },
  });
  const cards = new Map(
    rows.map((row) => {
      const roles = row.memberships.map((membership) => membership.role);
      const isPlayer = roles.includes('player');
      const card: PersonCard = {
        personId: row.id as PersonId,
        name: row.name,
        email: isLead(viewer) ? row.email : null,
        roles,
        birthDate: isPlayer && row.birthDate ? dayOfDate(row.birthDate) : null,
        guardians: isPlayer ? row.guardians.map((one) => toGuardian(one, row.consents)) : [],
      };
      return [row.id, card];
    }),
  );
  return ids.flatMap((id) => cards.get(id) ?? []);
}

async function pageOfIds(viewer: Viewer, ids: readonly string[], take: number): Promise<PeoplePage> {
  const page = ids.slice(0, take);
  return {
    rows: await cardsOf(viewer, page),
    next: ids.length > take ? ((page.at(-1) ?? null) as PersonId | null) : null,
  };
}

/**
 * The players, guardians or staff of the program by name, at most `take` after the one named `after`, for staff; nobody
 * for others.
 */
export async function listPeople(
  viewer: Viewer,
  group: 'player' | 'guardian' | 'staff',
  { after = null, take = 50 }: Go = {},
): Promise<PeoplePage> {
  if (!isStaff(viewer)) return NOBODY;
  const { programId } = viewer;
  // Who is both a coach and a lead stands in the list once.
  const ofGroup: Prisma.MembershipWhereInput =
    group === 'staff'
      ? {
          OR: [
            { role: 'coach' },
            { role: 'lead', person: { memberships: { none: { programId, role: 'coach' } } } },
          ],
        }
      : { role: group };
  const found = await prisma.membership.findMany({
    where: {
      AND: [{ programId, person: peopleVisibleTo(viewer) }, ofGroup, afterName(await placeOf(viewer, after))],
    },
    select: { personId: true },
    orderBy: [{ sortName: 'asc' }, { personId: 'asc' }],
    take: take + 1,
  });
  return pageOfIds(
    viewer,
    found.map(({ personId }) => personId),
    take,
  );
}

/**
 * Minors of the program with whom staff cannot write on `today`, because no guardian stands there, contact is paused or
 * the consent does not hold; by name, at most `take` after the one named `after`. For staff; nobody for others.
 */
export async function listNeedingCare(
  viewer: Viewer,
  today: Day,
  { after = null, take = 25 }: Go = {},
): Promise<PeoplePage> {
  if (!isStaff(viewer)) return NOBODY;
  const last = await placeOf(viewer, after);
  const isAfter = last
    ? Prisma.sql`AND ("sortName", "personId") > (${last.name}, ${last.id}::uuid)`
    : Prisma.empty;
  // What may be seen is asked of whom was found; here it only keeps pages full.
  const isOwn =
    isLead(viewer) || viewer.isCleared
      ? Prisma.empty
      : Prisma.sql`AND "playerId" = ANY(${sendsFor(viewer)}::uuid[])`;
  const tomorrow = new Date(dateOfDay(today).getTime() + DAY_MS);
  // By hand: those few are found first, and each is looked up for itself; a join would read every person there is.
  const found = await prisma.$queryRaw<{ id: string }[]>`
    WITH unguarded AS MATERIALIZED (SELECT "playerId" FROM "Thread"
      WHERE "programId" = ${viewer.programId}::uuid ${isOwn}
        AND ("guardsUntil" IS NULL OR "guardsUntil" < ${tomorrow}))
    SELECT "personId" AS id FROM unguarded, LATERAL (SELECT "sortName", "personId" FROM "Membership"
      WHERE "programId" = ${viewer.programId}::uuid AND "personId" = "playerId" AND role = 'player' OFFSET 0) member
    WHERE (SELECT "birthDate" IS NULL OR "birthDate" > ${dateOfDay(viewer.adultsBornUntil)}::date
        FROM "Person" WHERE id = "playerId") ${isAfter}
    ORDER BY "sortName", "personId" LIMIT ${take + 1}`;
  return pageOfIds(
    viewer,
    found.map(({ id }) => id),
    take,
  );
}

/**
 * People of the program whose name holds all the words, by name, at most `take`; `hasMore` says that more names fit. For
 * staff; nobody for others.
 */
export async function findPeople(
  viewer: Viewer,
  typed: string,
  take = 50,
): Promise<{ rows: PersonCard[]; hasMore: boolean }> {
  if (!isStaff(viewer)) return { rows: [], hasMore: false };
  const ids = await idsByName(viewer, typed, ['player', 'guardian', 'coach', 'lead'], take + 1);
  return { rows: await cardsOf(viewer, ids.slice(0, take)), hasMore: ids.length > take };
}
