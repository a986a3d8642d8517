import { dayOfDate, type Day } from '@/lib/domain/people/age';
import type { Viewer } from '@/lib/domain/people/viewer';
import type { PersonId, ThreadId } from '@/lib/domain/shared/ids';
import { db, prisma, type Tx } from './client';
import { type GuardianCard, guardianCards, toGuardian } from './guardian-cards';
import { lessonConsents } from './lesson-consents';
import { playersVisibleTo } from './visibility';

/** What the rules about minors need to know of a player. */
export interface PlayerCard {
  personId: PersonId;
  name: string;
  birthDate: Day | null;
  email: string | null;
  /** Their own, where somebody told it. */
  timeZone: string | null;
  guardians: GuardianCard[];
}

/** A player of the program with their guardians; null when absent or not the viewer's to see. */
export async function readPlayer(viewer: Viewer, playerId: PersonId, tx?: Tx): Promise<PlayerCard | null> {
  const row = await db(tx).person.findFirst({
    where: { AND: [{ id: playerId }, playersVisibleTo(viewer)] },
    select: {
      id: true,
      name: true,
      birthDate: true,
      email: true,
      timeZone: true,
      guardians: guardianCards,
      consents: lessonConsents(viewer.programId),
    },
  });
  return (
    row && {
      personId: row.id as PersonId,
      name: row.name,
      birthDate: row.birthDate && dayOfDate(row.birthDate),
      email: row.email,
      timeZone: row.timeZone,
      guardians: row.guardians.map((one) => toGuardian(one, row.consents)),
    }
  );
}

/** A child of the viewer, as the account page shows it. */
export interface WardCard {
  personId: PersonId;
  threadId: ThreadId | null;
  name: string;
  birthDate: Day | null;
  /** True for a child of 13 or more with a login of their own. */
  hasLogin: boolean;
  /** Whether the viewer has paused contact; another guardian may have too. */
  isPaused: boolean;
}

/** The players whose verified guardian the viewer is, by name. */
export async function listWards(viewer: Viewer): Promise<WardCard[]> {
  const rows = await prisma.guardianship.findMany({
    where: {
      guardianId: viewer.personId,
      verifiedAt: { not: null },
      player: { AND: [{ id: { in: [...viewer.wards] } }, playersVisibleTo(viewer)] },
    },
    orderBy: { player: { name: 'asc' } },
    select: {
      pausedAt: true,
      player: {
        select: {
          id: true,
          name: true,
          birthDate: true,
          email: true,
          threads: { where: { programId: viewer.programId }, select: { id: true } },
        },
      },
    },
  });
  return rows.map(({ pausedAt, player }) => ({
    personId: player.id as PersonId,
    threadId: (player.threads[0]?.id ?? null) as ThreadId | null,
    name: player.name,
    birthDate: player.birthDate && dayOfDate(player.birthDate),
    hasLogin: player.email !== null,
    isPaused: pausedAt !== null,
  }));
}

/** What people see of themselves. */
export interface AccountFacts {
  name: string;
  email: string | null;
  birthDate: Day | null;
  hasPassword: boolean;
  isDemo: boolean;
  program: { name: string; timeZone: string };
}

/** The viewer's own account. */
export async function readAccount(viewer: Viewer): Promise<AccountFacts> {
  const [row, program] = await Promise.all([
    prisma.person.findUniqueOrThrow({
      where: { id: viewer.personId },
      select: { name: true, email: true, birthDate: true, passwordHash: true, isDemo: true },
    }),
    prisma.program.findUniqueOrThrow({
      where: { id: viewer.programId },
      select: { name: true, timeZone: true },
    }),
  ]);
  return {
    name: row.name,
    email: row.email,
    birthDate: row.birthDate && dayOfDate(row.birthDate),
    hasPassword: row.passwordHash !== null,
    isDemo: row.isDemo,
    program,
  };
}

/** The viewer's own password hash, for the check of the old password before a change. */
export async function readOwnPassword(viewer: Viewer, tx: Tx): Promise<string | null> {
  const row = await db(tx).person.findUniqueOrThrow({
    where: { id: viewer.personId },
    select: { passwordHash: true },
  });
  return row.passwordHash;
}
