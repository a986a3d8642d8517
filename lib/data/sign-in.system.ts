import type { ClearanceFacts } from '@/lib/domain/people/clearances';
import { dayOfDate, type Day } from '@/lib/domain/people/age';
import type { Role, System } from '@/lib/domain/people/viewer';
import type { PersonId, ProgramId } from '@/lib/domain/shared/ids';
import { db, type Tx } from './client';
import { tokenHash } from './token-hash';

/** What a sign-in needs to know of a person who may hold a login. */
export interface LoginFacts {
  personId: PersonId;
  passwordHash: string | null;
  sessionVersion: number;
}

const LOGIN = { id: true, passwordHash: true, sessionVersion: true } as const;
const loginFacts = (row: {
  id: string;
  passwordHash: string | null;
  sessionVersion: number;
}): LoginFacts => ({
  personId: row.id as PersonId,
  passwordHash: row.passwordHash,
  sessionVersion: row.sessionVersion,
});

/** The login that belongs to an address in lower case; null when there is none. */
export async function findLogin(_system: System, email: string): Promise<LoginFacts | null> {
  const row = await db().person.findUnique({ where: { email }, select: LOGIN });
  return row && loginFacts(row);
}

/** The login of a person who may be entered by the demo door; null for everybody else. */
export async function findDemoLogin(_system: System, personId: PersonId): Promise<LoginFacts | null> {
  const row = await db().person.findFirst({
    where: { id: personId, isDemo: true, memberships: { some: {} } },
    select: LOGIN,
  });
  return row && loginFacts(row);
}

export interface DemoPerson {
  personId: PersonId;
  name: string;
  programName: string;
  roles: Role[];
  /** Names of the players whose verified guardian this person is. */
  wards: string[];
}

/** Everybody who may be entered by the demo door, by name. Children held by a guardian are not among them. */
export async function listDemoPeople(_system: System): Promise<DemoPerson[]> {
  const rows = await db().person.findMany({
    where: { isDemo: true, email: { not: null }, memberships: { some: {} } },
    orderBy: { name: 'asc' },
    take: 100,
    select: {
      id: true,
      name: true,
      memberships: { select: { role: true, program: { select: { name: true } } } },
      wards: { where: { verifiedAt: { not: null } }, select: { player: { select: { name: true } } } },
    },
  });
  return rows.map((row) => ({
    personId: row.id as PersonId,
    name: row.name,
    programName: row.memberships[0]?.program.name ?? '',
    roles: row.memberships.map((membership) => membership.role),
    wards: row.wards.map((ward) => ward.player.name),
  }));
}

/** What a session is worth right now. */
export interface SessionFacts {
  personId: PersonId;
  sessionVersion: number;
  isDemo: boolean;
  memberships: { programId: ProgramId; programName: string; timeZone: string; role: Role }[];
  /** Players who name this person as a verified guardian, with the programs they play in. */
  wards: { playerId: PersonId; birthDate: Day | null; programIds: ProgramId[] }[];
  /** What a lead recorded of this person's checks and did not revoke. */
  clearances: (ClearanceFacts & { programId: string })[];
}

/** The person behind a session; null when the person is gone or this session was signed out. */
export async function readSession(
  _system: System,
  personId: PersonId,
  sessionId: string,
): Promise<SessionFacts | null> {
  const [row, ended] = await Promise.all([
    db().person.findUnique({
      where: { id: personId },
      select: {
        id: true,
        sessionVersion: true,
        isDemo: true,
        memberships: {
          orderBy: [{ createdAt: 'asc' }, { programId: 'asc' }],
          select: { programId: true, role: true, program: { select: { name: true, timeZone: true } } },
        },
        clearances: {
          where: { revokedAt: null },
          select: { programId: true, kind: true, issuedOn: true, expiresOn: true, revokedAt: true },
        },
        wards: {
          where: { verifiedAt: { not: null } },
          select: {
            playerId: true,
            player: {
              select: {
                birthDate: true,
                memberships: { where: { role: 'player' }, select: { programId: true } },
              },
            },
          },
        },
      },
    }),
    db().endedSession.findUnique({ where: { id: sessionId }, select: { id: true } }),
  ]);
  if (!row || ended) return null;
  return {
    personId: row.id as PersonId,
    sessionVersion: row.sessionVersion,
    isDemo: row.isDemo,
    memberships: row.memberships.map(({ programId, role, program }) => ({
      programId: programId as ProgramId,
      programName: program.name,
      timeZone: program.timeZone,
      role,
    })),
    clearances: row.clearances,
    wards: row.wards.map(({ playerId, player }) => ({
      playerId: playerId as PersonId,
      birthDate: player.birthDate && dayOfDate(player.birthDate),
      programIds: player.memberships.map((membership) => membership.programId as ProgramId),
    })),
  };
}

/** Ends one session for good; `expires` is when its cookie would have died by itself. Forgets those already dead at `now`. */
export async function endSession(
  _system: System,
  sessionId: string,
  expires: Date,
  now: Date,
): Promise<void> {
  await db().endedSession.deleteMany({ where: { expires: { lt: now } } });
  await db().endedSession.createMany({ data: [{ id: sessionId, expires }], skipDuplicates: true });
}

/** Keeps a sign-in link of this person until `expires`, by the hash of its token. Forgets links dead at `now`. */
export async function keepSignInLink(
  _system: System,
  link: { personId: PersonId; token: string; expires: Date },
  now: Date,
): Promise<void> {
  await db().verificationToken.deleteMany({ where: { expires: { lt: now } } });
  await db().verificationToken.create({
    data: { identifier: link.personId, token: tokenHash(link.token), expires: link.expires },
  });
}

/** Uses up a sign-in link: the login it opens, or null when it is unknown, used or dead. Of two calls at once one wins. */
export async function takeSignInLink(_system: System, token: string, now: Date): Promise<LoginFacts | null> {
  const hash = tokenHash(token);
  const link = await db().verificationToken.findUnique({ where: { token: hash } });
  if (!link) return null;
  const { count } = await db().verificationToken.deleteMany({ where: { token: hash } });
  if (count !== 1 || link.expires <= now) return null;
  const row = await db().person.findFirst({
    where: { id: link.identifier, email: { not: null } },
    select: LOGIN,
  });
  return row && loginFacts(row);
}

/** Takes back every sign-in link of a person that was not used yet. */
export async function dropSignInLinks(_system: System, tx: Tx, personId: PersonId): Promise<void> {
  await db(tx).verificationToken.deleteMany({ where: { identifier: personId } });
}
