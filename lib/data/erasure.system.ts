import type { System } from '@/lib/domain/people/viewer';
import type { PersonId, ProgramId } from '@/lib/domain/shared/ids';
import { db, type Tx } from './client';
import { eraseGuardian, eraseIdentity, erasePayer, eraseStaff } from './erase-person';
import { erasePlayer, eraseTraces, type Erasing } from './erase-player';
import { isHeldBack } from './held-back';
import { allowBlanking, lockDeletion } from './strip-media';

/** A request whose time has come. */
export interface DueErasure {
  id: string;
  programId: ProgramId;
  personId: PersonId;
}

/** Requests to erase somebody that are due at `now`, oldest first, at most a thousand: the rest comes the next night. */
export async function listDueErasures(_system: System, now: Date): Promise<DueErasure[]> {
  const rows = await db().erasureRequest.findMany({
    where: { dueAt: { lte: now }, cancelledAt: null, doneAt: null },
    orderBy: [{ dueAt: 'asc' }, { id: 'asc' }],
    take: 1000,
    select: { id: true, programId: true, personId: true },
  });
  return rows.map((row) => ({
    ...row,
    programId: row.programId as ProgramId,
    personId: row.personId as PersonId,
  }));
}

/** How it went: done with whom to tell, or why not now. `held`: a legal hold; `last-lead`: a program needs one. */
export type Erased =
  { state: 'done'; programName: string; emails: string[] } | { state: 'held' | 'last-lead' | 'gone' };

/**
 * Erases what a request names, in one transaction, and writes down which files have to go. Nothing is done while a legal
 * hold stands on the person, on a child of theirs, or on a player they have coached or written to. Doing it again finds
 * it done.
 */
export async function eraseRequested(
  _system: System,
  tx: Tx,
  requestId: string,
  { pseudonym, now }: { pseudonym: string; now: Date },
): Promise<Erased> {
  await db(tx).$queryRaw`SELECT 1 FROM "ErasureRequest" WHERE id = ${requestId}::uuid FOR UPDATE`;
  const request = await db(tx).erasureRequest.findFirst({
    where: { id: requestId, dueAt: { lte: now }, cancelledAt: null, doneAt: null },
    select: { programId: true, personId: true },
  });
  if (!request) return { state: 'gone' };
  const { programId, personId } = request;
  await lockDeletion(tx, programId);
  if (await isHeldBack(tx, personId)) return { state: 'held' };
  const person = await db(tx).person.findUniqueOrThrow({
    where: { id: personId },
    select: {
      name: true,
      email: true,
      pseudonym: true,
      memberships: { select: { programId: true, role: true } },
      guardians: {
        where: { verifiedAt: { not: null } },
        select: { guardian: { select: { email: true } } },
      },
    },
  });
  const roles = person.memberships.filter((one) => one.programId === programId).map((one) => one.role);
  if (roles.includes('lead')) {
    await db(tx).$queryRaw`SELECT 1 FROM "Program" WHERE id = ${programId}::uuid FOR UPDATE`;
    if ((await db(tx).membership.count({ where: { programId, role: 'lead' } })) < 2)
      return { state: 'last-lead' };
  }
  const program = await db(tx).program.findUniqueOrThrow({
    where: { id: programId },
    select: {
      name: true,
      memberships: {
        where: { role: 'lead', personId: { not: personId } },
        select: { person: { select: { email: true } } },
      },
    },
  });
  const emails = [
    person.email,
    ...person.guardians.map((one) => one.guardian.email),
    ...program.memberships.map((one) => one.person.email),
  ].flatMap((email) => email ?? []);

  const erasing: Erasing = { personId, programId, now };
  const standIn = person.pseudonym ?? pseudonym;
  await allowBlanking(tx);
  await erasePlayer(tx, erasing);
  await eraseGuardian(tx, erasing);
  await eraseStaff(tx, erasing);
  await erasePayer(tx, erasing, standIn);
  await eraseTraces(tx, erasing, person);
  await db(tx).membership.deleteMany({ where: { programId, personId } });
  const isElsewhere = person.memberships.some((one) => one.programId !== programId);
  if (isElsewhere) {
    await db(tx).person.update({
      where: { id: personId },
      data: { sessionVersion: { increment: 1 }, pseudonym: standIn },
    });
  } else await eraseIdentity(tx, erasing, { roles, pseudonym: standIn });
  await db(tx).erasureRequest.update({ where: { id: requestId }, data: { doneAt: now } });
  return { state: 'done', programName: program.name, emails: [...new Set(emails)] };
}
