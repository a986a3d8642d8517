import { randomUUID } from 'node:crypto';
import { prisma } from '@/lib/data/client';
import type { Claims } from '@/lib/auth/session';
import { passwords } from '@/lib/auth/passwords';
import {
  buildCoach,
  buildGuardian,
  buildLead,
  buildMember,
  buildPlayer,
  buildProgram,
} from '../../support/build';
import { cookieOf } from '../../support/action-client';
import { claimsOf } from '../../support/viewers';
import { buildStanding } from './standing';

/** Everybody who asks. `ended`: a lead who has signed out; `left`: one who is in no program any more. */
export const ROLES = [
  'nobody',
  'ended',
  'left',
  'adult',
  'teen',
  'child',
  'guardian',
  'other-guardian',
  'coach',
  'uncleared',
  'other-coach',
  'lead',
  'far-player',
  'far-coach',
  'far-lead',
] as const;
export type RoleName = (typeof ROLES)[number];

/** Whose things are asked for: three players of one program (grown, 15, 10 years old), and one of another program. */
export const TARGETS = ['adult', 'teen', 'child', 'far'] as const;
export type TargetName = (typeof TARGETS)[number];

/**
 * What a role is to a target. `self` a grown player, `minor` a player who is none yet, `its-coach` who has the lessons;
 * `none` grants nothing.
 */
export type Relation = 'self' | 'minor' | 'guardian' | 'its-coach' | 'coach' | 'lead' | 'none';

const NOTHING = { adult: 'none', teen: 'none', child: 'none', far: 'none' } as const;
const among = (relation: Relation) =>
  ({ adult: relation, teen: relation, child: relation, far: 'none' }) as const;

const RELATIONS: Record<RoleName, Record<TargetName, Relation>> = {
  nobody: NOTHING,
  ended: NOTHING,
  left: NOTHING,
  adult: { ...NOTHING, adult: 'self' },
  teen: { ...NOTHING, teen: 'minor' },
  child: { ...NOTHING, child: 'minor' },
  guardian: { ...NOTHING, child: 'guardian' },
  'other-guardian': { ...NOTHING, teen: 'guardian' },
  coach: among('its-coach'),
  // Without valid checks a coach works with grown players only.
  uncleared: { ...NOTHING, adult: 'coach' },
  'other-coach': among('coach'),
  lead: among('lead'),
  'far-player': { ...NOTHING, far: 'self' },
  'far-coach': { ...NOTHING, far: 'its-coach' },
  'far-lead': { ...NOTHING, far: 'lead' },
};

/** What each role is inside its own program. */
const KINDS: Record<RoleName, Relation> = {
  ...{ nobody: 'none', ended: 'none', left: 'none' },
  ...{ adult: 'self', teen: 'minor', child: 'minor', guardian: 'guardian', 'other-guardian': 'guardian' },
  ...{ coach: 'its-coach', uncleared: 'coach', 'other-coach': 'coach', lead: 'lead' },
  ...{ 'far-player': 'self', 'far-coach': 'its-coach', 'far-lead': 'lead' },
};

/** Whether the role has no session that holds, or no program to look at. */
export const isOutside = (role: string) => role === 'nobody' || role === 'ended' || role === 'left';

export const relationTo = (role: RoleName, target: TargetName): Relation => RELATIONS[role][target];
/** The role's place where the thing is the whole program's. */
export const placeIn = (role: RoleName, target: TargetName): Relation =>
  role.startsWith('far-') === (target === 'far') ? KINDS[role] : 'none';
export const kindOf = (role: RoleName): Relation => KINDS[role];

/** A player of a program and the people around. */
export interface Target {
  name: TargetName;
  program: Awaited<ReturnType<typeof buildProgram>>;
  player: Awaited<ReturnType<typeof buildPlayer>>;
  /** Null for grown players. */
  guardian: { id: string } | null;
  coach: { id: string };
  lead: { id: string };
  /** What stands there the whole time, to look at. */
  standing: Awaited<ReturnType<typeof buildStanding>>;
}

/** Somebody who asks, and the program they look at. */
export interface Actor {
  name: RoleName;
  person: { id: string; email: string | null };
  program: { id: string };
}

export const PASSWORD = 'a quiet meadow behind the cage';

/** Two programs with everybody in them, and a session for each role. */
export async function buildWorld(secret: string) {
  const here = await buildProgram({ name: 'Harbor Hitting' });
  const far = await buildProgram({ name: 'Faraway Hitting' });
  const passwordHash = await passwords.hash(PASSWORD);
  const known = { passwordHash };
  const lead = await buildLead(here, known);
  const coach = await buildCoach(here, known);
  const farLead = await buildLead(far, known);
  const farCoach = await buildCoach(far, known);
  const players = {
    adult: await buildPlayer(here, { age: 24, name: 'Ansel Grownup', ...known }),
    teen: await buildPlayer(here, { age: 15, name: 'Tilda Fifteen', ...known }),
    child: await buildPlayer(here, { age: 10, name: 'Cory Tenyears' }),
    far: await buildPlayer(far, { age: 30, name: 'Faye Faraway', ...known }),
  };
  const guardians = {
    child: await buildGuardian(here, [players.child], known),
    teen: await buildGuardian(here, [players.teen], known),
  };
  const left = await buildMember(here, ['lead'], known);
  const ended = await buildLead(here, known);
  const people: Record<Exclude<RoleName, 'nobody'>, Actor['person']> = {
    ...{ ended, left, adult: players.adult, teen: players.teen, child: players.child },
    ...{ guardian: guardians.child, 'other-guardian': guardians.teen },
    ...{ coach, uncleared: await buildCoach(here, { isCleared: false, ...known }) },
    ...{ 'other-coach': await buildCoach(here, known), lead },
    ...{ 'far-player': players.far, 'far-coach': farCoach, 'far-lead': farLead },
  };
  const buildTarget = async (name: TargetName): Promise<Target> => {
    const around =
      name === 'far' ? { program: far, coach: farCoach, lead: farLead } : { program: here, coach, lead };
    const player = players[name];
    const guardian = name === 'child' || name === 'teen' ? guardians[name] : null;
    return { name, player, guardian, ...around, standing: await buildStanding(player, around) };
  };
  const targets = {
    adult: await buildTarget('adult'),
    teen: await buildTarget('teen'),
    child: await buildTarget('child'),
    far: await buildTarget('far'),
  };
  const endedClaims: Claims = await claimsOf(ended, here);
  await prisma.endedSession.create({
    data: { id: endedClaims.sid, expires: new Date(Date.now() + 86_400_000) },
  });
  const leftClaims = await claimsOf(left, here);
  await prisma.membership.deleteMany({ where: { personId: left.id } });

  const actorOf = (name: RoleName): Actor | null => {
    if (name === 'nobody') return null;
    return { name, person: people[name], program: name.startsWith('far-') ? far : here };
  };
  return {
    targets,
    actorOf,
    /** Names and questions of players whom the role may not see. */
    secretsFor: (role: RoleName): string[] =>
      TARGETS.filter((name) => relationTo(role, name) === 'none').flatMap((name) => [
        targets[name].player.name,
        targets[name].standing.returned.question,
      ]),
    /** The cookie header of the role, as of now; undefined for nobody. */
    async cookieOf(name: RoleName): Promise<string | undefined> {
      const actor = actorOf(name);
      if (!actor) return undefined;
      if (name === 'ended') return cookieOf(endedClaims, secret);
      if (name === 'left') return cookieOf(leftClaims, secret);
      return cookieOf({ ...(await claimsOf(actor.person, actor.program)), sid: randomUUID() }, secret);
    },
  };
}
export type World = Awaited<ReturnType<typeof buildWorld>>;
