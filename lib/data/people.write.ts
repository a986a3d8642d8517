import { v7 as uuid } from 'uuid';
import { consentEnds } from '@/lib/domain/consents/consent';
import { dateOfDay, type Day } from '@/lib/domain/people/age';
import { CONSENT_VERSION } from '@/lib/domain/people/safeguarding';
import { isLead, sendsFor, type Viewer } from '@/lib/domain/people/viewer';
import type { Hand } from '@/lib/domain/lessons/state';
import { CagepostError, notFound } from '@/lib/domain/shared/errors';
import type { PersonId } from '@/lib/domain/shared/ids';
import { db, type Tx } from './client';
import { playersVisibleTo } from './visibility';

/** A child as its guardian enters it. The id is minted by the form, so that sending it twice adds one child. */
export interface Child {
  id: PersonId;
  name: string;
  birthDate: Day;
  bats: Hand | null;
}

/**
 * Adds a player who is held by the viewer: profile, place in the program, thread, and the viewer's consent. For
 * guardians only. Returns false when it was there already.
 */
export async function addChild(viewer: Viewer, tx: Tx, child: Child, at: Date): Promise<boolean> {
  if (!viewer.roles.includes('guardian')) throw notFound('page');
  const known = await db(tx).person.findUnique({
    where: { id: child.id },
    select: { guardians: { where: { guardianId: viewer.personId }, select: { playerId: true } } },
  });
  if (known && known.guardians.length > 0) return false;
  if (known) throw notFound('player');
  const { programId } = viewer;
  await db(tx).person.create({
    data: {
      id: child.id,
      name: child.name,
      birthDate: dateOfDay(child.birthDate),
      bats: child.bats,
      memberships: { create: { programId, role: 'player' } },
      threads: { create: { id: uuid(), programId } },
      guardians: {
        create: {
          guardianId: viewer.personId,
          verifiedAt: at,
          consentVersion: CONSENT_VERSION,
          consentMethod: 'added-child',
        },
      },
      consents: {
        create: {
          id: uuid(),
          programId,
          byId: viewer.personId,
          scope: 'lessons',
          version: CONSENT_VERSION,
          method: 'added-child',
          givenAt: at,
          expiresAt: consentEnds(at),
        },
      },
    },
  });
  return true;
}

/** Stops (an instant) or allows again (null) that staff write to a player. For the player's verified guardians only. */
export async function setContactPause(
  viewer: Viewer,
  tx: Tx,
  playerId: PersonId,
  pausedAt: Date | null,
): Promise<void> {
  const { count } = await db(tx).guardianship.updateMany({
    where: {
      guardianId: viewer.personId,
      verifiedAt: { not: null },
      AND: [{ playerId }, { playerId: { in: [...viewer.wards] } }],
    },
    data: { pausedAt },
  });
  if (count !== 1) throw notFound('player');
}

/** Keeps the zone a player lives in (IANA name), or null for the program's. For the player and verified guardians. */
export async function setTimeZone(
  viewer: Viewer,
  tx: Tx,
  playerId: PersonId,
  timeZone: string | null,
): Promise<void> {
  const { count } = await db(tx).person.updateMany({
    where: {
      AND: [{ id: playerId }, { id: { in: sendsFor(viewer) as string[] } }, playersVisibleTo(viewer)],
    },
    data: { timeZone },
  });
  if (count !== 1) throw notFound('player');
}

/** Confirms that somebody whom a minor named is their guardian. For leads. Returns false when it was confirmed before. */
export async function confirmGuardian(
  viewer: Viewer,
  tx: Tx,
  pair: { guardianId: PersonId; playerId: PersonId },
  at: Date,
): Promise<boolean> {
  const guardianship = isLead(viewer)
    ? await db(tx).guardianship.findFirst({
        where: {
          guardianId: pair.guardianId,
          player: { AND: [{ id: pair.playerId }, playersVisibleTo(viewer)] },
          guardian: { memberships: { some: { programId: viewer.programId, role: 'guardian' } } },
        },
        select: { verifiedAt: true, createdAt: true, consentVersion: true, consentMethod: true },
      })
    : null;
  if (!guardianship) throw notFound('guardian');
  const { count } = await db(tx).guardianship.updateMany({
    where: { ...pair, verifiedAt: null },
    data: { verifiedAt: at },
  });
  if (count === 1 && guardianship.consentVersion) {
    // They agreed when they accepted; it counts from now on and ends a year after it was given.
    await db(tx).consent.create({
      data: {
        id: uuid(),
        programId: viewer.programId,
        playerId: pair.playerId,
        byId: pair.guardianId,
        scope: 'lessons',
        version: guardianship.consentVersion,
        method: guardianship.consentMethod ?? 'named-by-player',
        givenAt: guardianship.createdAt,
        expiresAt: consentEnds(guardianship.createdAt),
      },
    });
  }
  return count === 1;
}

/** Keeps a new password hash of the viewer and ends all their sessions. Returns the version that new sessions carry. */
export async function setOwnPassword(viewer: Viewer, tx: Tx, passwordHash: string): Promise<number> {
  const row = await db(tx).person.update({
    where: { id: viewer.personId },
    data: { passwordHash, sessionVersion: { increment: 1 } },
    select: { sessionVersion: true },
  });
  return row.sessionVersion;
}

/** Ends every session of the viewer. Returns the version that new sessions carry. */
export async function endOwnSessions(viewer: Viewer, tx: Tx): Promise<number> {
  const row = await db(tx).person.update({
    where: { id: viewer.personId },
    data: { sessionVersion: { increment: 1 } },
    select: { sessionVersion: true },
  });
  return row.sessionVersion;
}

export const STAFF_ROLES = ['coach', 'lead'] as const;
export type StaffRole = (typeof STAFF_ROLES)[number];

/**
 * Gives or takes a staff role of somebody who is, or was, staff of the program. For leads. A program keeps at least
 * one lead; two leads who take the role from each other at once do not both succeed.
 */
export async function setStaffRole(
  viewer: Viewer,
  tx: Tx,
  personId: PersonId,
  role: StaffRole,
  isOn: boolean,
): Promise<void> {
  const { programId } = viewer;
  const isKnown =
    isLead(viewer) &&
    (await db(tx).membership.count({ where: { programId, personId, role: { in: [...STAFF_ROLES] } } })) > 0;
  if (!isKnown) throw notFound('person');
  if (isOn) {
    await db(tx).membership.createMany({ data: [{ programId, personId, role }], skipDuplicates: true });
    return;
  }
  await db(tx).$queryRaw`SELECT 1 FROM "Program" WHERE id = ${programId}::uuid FOR UPDATE`;
  await db(tx).membership.deleteMany({ where: { programId, personId, role } });
  if (role === 'lead' && (await db(tx).membership.count({ where: { programId, role } })) === 0) {
    throw new CagepostError(
      'wrong-state',
      'A program needs a lead. Make somebody else a lead first; nothing was changed.',
    );
  }
}
