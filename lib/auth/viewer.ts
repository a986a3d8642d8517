import { readSession, type SessionFacts } from '@/lib/data/sign-in.system';
import { dayIn } from '@/lib/domain/people/age';
import { isCleared } from '@/lib/domain/people/clearances';
import { isMinor, minorsAreBornAfter } from '@/lib/domain/people/safeguarding';
import type { Viewer } from '@/lib/domain/people/viewer';
import type { ProgramId } from '@/lib/domain/shared/ids';
import type { Claims } from './session';
import { asSystem } from './system';

/**
 * The viewer that a person is inside one program; null without a role in it. A guardian's wards are those of the
 * program who are still minors: on the eighteenth birthday the lessons become the player's own.
 */
const viewerIn = (facts: SessionFacts, programId: ProgramId, now: Date): Viewer | null => {
  const here = facts.memberships.filter((membership) => membership.programId === programId);
  const [first] = here;
  if (!first) return null;
  const today = dayIn(first.timeZone, now);
  const roles = here.map((membership) => membership.role);
  const wards = facts.wards.filter((ward) => ward.programIds.includes(programId) && isMinor(ward, today));
  return {
    personId: facts.personId,
    programId,
    roles,
    wards: roles.includes('guardian') ? wards.map((ward) => ward.playerId) : [],
    isCleared: isCleared(
      facts.clearances.filter((one) => one.programId === programId),
      today,
    ),
    adultsBornUntil: minorsAreBornAfter(today),
  } as unknown as Viewer;
};

/** What a live session is: its viewer (null for somebody who has left every program) and the programs to choose from. */
export interface LiveSession {
  claims: Claims;
  viewer: Viewer | null;
  programs: { programId: ProgramId; name: string }[];
  isDemo: boolean;
}

/**
 * The only maker of a `Viewer`: from a session's claims, checked against the database at every request. Null when the
 * session was signed out, every session of the person was ended, or the person is gone.
 */
export async function liveSession(claims: Claims, now: Date): Promise<LiveSession | null> {
  const facts = await readSession(asSystem('sign-in'), claims.sub, claims.sid);
  if (!facts || facts.sessionVersion !== claims.ver) return null;
  const programs = new Map(facts.memberships.map((one) => [one.programId, one.programName]));
  const chosen = claims.prog && programs.has(claims.prog) ? claims.prog : facts.memberships[0]?.programId;
  return {
    claims,
    viewer: chosen ? viewerIn(facts, chosen, now) : null,
    programs: [...programs].map(([programId, name]) => ({ programId, name })),
    isDemo: facts.isDemo,
  };
}
