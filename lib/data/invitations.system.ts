import { v7 as uuid } from 'uuid';
import { consentEnds } from '@/lib/domain/consents/consent';
import { dateOfDay, dayOfDate, type Day } from '@/lib/domain/people/age';
import { CONSENT_VERSION, type ConsentMethod } from '@/lib/domain/people/safeguarding';
import type { Role, System } from '@/lib/domain/people/viewer';
import type { InvitationId, PersonId, ProgramId } from '@/lib/domain/shared/ids';
import { db, type Tx } from './client';
import { tokenHash } from './token-hash';

/** An invitation as the holder of its link may know it. */
export interface InvitationFacts {
  id: InvitationId;
  programId: ProgramId;
  programName: string;
  timeZone: string;
  role: Role;
  name: string;
  email: string;
  inviterName: string;
  player: { personId: PersonId; name: string } | null;
  /** A player's birth date as the program wrote it; it goes before what the player says. */
  birthDate: Day | null;
  /** The child that a guardian is expected to add. */
  childName: string | null;
  /** The guardian who is to be invited once a minor has accepted. */
  guardian: { name: string; email: string } | null;
  createdById: PersonId;
  /** True when the player named this guardian: then a lead has to confirm it. */
  isNamedByPlayer: boolean;
  /** Who already has the address; the link was mailed to it, so that its holder may know. */
  account: { personId: PersonId; birthDate: Day | null } | null;
  usedAt: Date | null;
  withdrawnAt: Date | null;
  expiresAt: Date;
}

/** The invitation behind a link's token, whatever its state; null for a token that was never given out. */
export async function findInvitation(
  _system: System,
  token: string,
  tx?: Tx,
): Promise<InvitationFacts | null> {
  const row = await db(tx).invitation.findUnique({
    where: { tokenHash: tokenHash(token) },
    include: { program: { select: { name: true, timeZone: true } } },
  });
  if (!row) return null;
  // One after the other: a transaction has one connection.
  const inviter = await db(tx).person.findUnique({ where: { id: row.createdById }, select: { name: true } });
  const player = row.playerId
    ? await db(tx).person.findUnique({ where: { id: row.playerId }, select: { id: true, name: true } })
    : null;
  const account = await db(tx).person.findUnique({
    where: { email: row.email },
    select: { id: true, birthDate: true },
  });
  return {
    id: row.id as InvitationId,
    programId: row.programId as ProgramId,
    programName: row.program.name,
    timeZone: row.program.timeZone,
    role: row.role,
    name: row.name,
    email: row.email,
    inviterName: inviter?.name ?? row.program.name,
    player: player && { personId: player.id as PersonId, name: player.name },
    birthDate: row.role === 'player' && row.childBirthDate ? dayOfDate(row.childBirthDate) : null,
    childName: row.childName,
    guardian:
      row.guardianName && row.guardianEmail ? { name: row.guardianName, email: row.guardianEmail } : null,
    createdById: row.createdById as PersonId,
    isNamedByPlayer: row.createdById === row.playerId,
    account: account && {
      personId: account.id as PersonId,
      birthDate: account.birthDate && dayOfDate(account.birthDate),
    },
    usedAt: row.usedAt,
    withdrawnAt: row.withdrawnAt,
    expiresAt: row.expiresAt,
  };
}

/** Uses the invitation up. False when it is used, withdrawn or expired by now: of two calls at once one wins. */
export async function takeInvitation(_system: System, tx: Tx, id: InvitationId, at: Date): Promise<boolean> {
  const { count } = await db(tx).invitation.updateMany({
    where: { id, usedAt: null, withdrawnAt: null, expiresAt: { gt: at } },
    data: { usedAt: at },
  });
  return count === 1;
}

/** Closes an open invitation that its holder may not use, so that it cannot be tried again with other answers. */
export async function closeInvitation(_system: System, tx: Tx, id: InvitationId, at: Date): Promise<void> {
  await db(tx).invitation.updateMany({
    where: { id, usedAt: null, withdrawnAt: null },
    data: { withdrawnAt: at },
  });
}

/** Makes a person with a login out of an accepted invitation. */
export async function createInvitedPerson(
  _system: System,
  tx: Tx,
  person: { id: PersonId; name: string; email: string; birthDate: Day | null; passwordHash: string },
): Promise<void> {
  const { birthDate, ...facts } = person;
  await db(tx).person.create({ data: { ...facts, birthDate: birthDate && dateOfDay(birthDate) } });
}

/** Keeps the birth date of somebody who had none; a known one is never overwritten. */
export async function keepBirthDate(_system: System, tx: Tx, id: PersonId, birthDate: Day): Promise<void> {
  await db(tx).person.updateMany({
    where: { id, birthDate: null },
    data: { birthDate: dateOfDay(birthDate) },
  });
}

/** Gives a person a role in a program, with a thread for a player. Doing it twice changes nothing. */
export async function joinProgram(
  _system: System,
  tx: Tx,
  place: { programId: ProgramId; personId: PersonId; role: Role },
): Promise<void> {
  await db(tx).membership.createMany({ data: [place], skipDuplicates: true });
  if (place.role !== 'player') return;
  await db(tx).thread.createMany({
    data: [{ id: uuid(), programId: place.programId, playerId: place.personId }],
    skipDuplicates: true,
  });
}

/** Puts a guardian beside a player; `verifiedAt` null until a lead confirms. An earlier verification is kept. */
export async function standBeside(
  _system: System,
  tx: Tx,
  pair: {
    programId: ProgramId;
    guardianId: PersonId;
    playerId: PersonId;
    method: ConsentMethod;
    verifiedAt: Date | null;
  },
): Promise<void> {
  const { guardianId, playerId, method, verifiedAt } = pair;
  const consent = { consentVersion: CONSENT_VERSION, consentMethod: method };
  await db(tx).guardianship.createMany({
    data: [{ guardianId, playerId, verifiedAt, ...consent }],
    skipDuplicates: true,
  });
  if (!verifiedAt) return;
  await db(tx).guardianship.updateMany({
    where: { guardianId, playerId, verifiedAt: null },
    data: { verifiedAt, ...consent },
  });
  await db(tx).consent.create({
    data: {
      id: uuid(),
      programId: pair.programId,
      playerId,
      byId: guardianId,
      scope: 'lessons',
      version: CONSENT_VERSION,
      method,
      givenAt: verifiedAt,
      expiresAt: consentEnds(verifiedAt),
    },
  });
}

/** Keeps an invitation of a guardian for a minor who has just accepted, in the name of whoever invited the minor. */
export async function inviteGuardianOf(
  _system: System,
  tx: Tx,
  invitation: {
    id: InvitationId;
    programId: ProgramId;
    playerId: PersonId;
    name: string;
    email: string;
    token: string;
    expiresAt: Date;
    createdById: PersonId;
    at: Date;
  },
): Promise<void> {
  const { token, at, ...facts } = invitation;
  await db(tx).invitation.create({
    data: { ...facts, role: 'guardian', tokenHash: tokenHash(token), createdAt: at },
  });
}
