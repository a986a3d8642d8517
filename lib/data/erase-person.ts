import { v7 as uuid } from 'uuid';
import { documentFactsSchema } from '@/lib/domain/billing/documents';
import { formerName, formerPayer } from '@/lib/domain/privacy/erasure';
import { documentFolder, remarkFolder } from '@/lib/domain/privacy/files';
import type { Role } from '@/lib/domain/people/viewer';
import { db, type Tx } from './client';
import { eraseReplies, type Erasing } from './erase-player';
import { letFilesGo, stripMedia } from './strip-media';

/** What a guardian wrote on the threads of their children, and their standing beside them. Needs `allowBlanking`. */
export async function eraseGuardian(tx: Tx, { personId, programId }: Erasing): Promise<void> {
  const replies = await db(tx).reply.findMany({
    where: {
      authorId: personId,
      thread: { programId, player: { guardians: { some: { guardianId: personId } } } },
    },
    select: { id: true },
  });
  await eraseReplies(tx, { id: { in: replies.map((one) => one.id) } });
  await db(tx).guardianship.deleteMany({
    where: {
      guardianId: personId,
      player: { memberships: { some: { programId }, none: { programId: { not: programId } } } },
    },
  });
}

/** A coach's own shelf and settings. What was returned to players stays theirs; lessons at work go back to the desk. */
export async function eraseStaff(tx: Tx, { personId, programId, now }: Erasing): Promise<void> {
  const remarks = await db(tx).remark.findMany({
    where: { ownerId: personId, programId },
    select: { id: true },
  });
  await db(tx).remark.updateMany({
    where: { ownerId: personId, programId },
    data: { title: '', text: '', storageKey: null, retiredAt: now },
  });
  await letFilesGo(
    tx,
    remarks.map((one) => remarkFolder(one.id)),
    now,
  );
  // Clips of drills in which others or nobody are seen are the program's, as the drills are.
  const shown = { uploadedById: personId, shows: 'sender' as const, drill: { programId } };
  await stripMedia(tx, { clips: shown, breakdowns: null }, now);
  const open = { programId, coachId: personId, state: { in: ['submitted', 'in_review'] as const } };
  const lessons = await db(tx).lesson.findMany({
    where: { ...open, state: { in: [...open.state.in] } },
    select: { id: true },
  });
  await db(tx).lessonEvent.createMany({
    data: lessons.map(({ id }) => ({
      ...{ id: uuid(), lessonId: id, kind: 'released' as const, actorId: personId, at: now },
    })),
  });
  await db(tx).lesson.updateMany({
    where: { id: { in: lessons.map((one) => one.id) } },
    data: { state: 'submitted', coachId: null },
  });
  await db(tx).coachHours.deleteMany({ where: { personId, programId } });
  await db(tx).deskView.deleteMany({ where: { personId, programId } });
}

/** Documents keep their numbers and amounts, the ledger its entries; names and reasons go. Needs `allowBlanking`. */
export async function erasePayer(
  tx: Tx,
  { personId, programId, now }: Erasing,
  pseudonym: string,
): Promise<void> {
  const documents = await db(tx).billingDocument.findMany({
    where: { programId, payerId: personId },
    select: { id: true, facts: true },
  });
  for (const { id, facts } of documents) {
    const renamed = { ...documentFactsSchema.parse(facts), payerName: formerPayer(pseudonym) };
    await db(tx).billingDocument.update({ where: { id }, data: { facts: renamed } });
  }
  await letFilesGo(
    tx,
    documents.map((one) => documentFolder(one.id)),
    now,
  );
  await db(tx).ledgerEntry.updateMany({
    where: { programId, payerId: personId, reason: { not: '' } },
    data: { reason: '' },
  });
}

/**
 * The person in no program any more: name, birth date, address, password and every way in go. What is left is a row
 * with the same id, a stand-in and the day.
 */
export async function eraseIdentity(
  tx: Tx,
  { personId, now }: Erasing,
  { roles, pseudonym }: { roles: readonly Role[]; pseudonym: string },
): Promise<void> {
  await db(tx).guardianship.deleteMany({ where: { OR: [{ guardianId: personId }, { playerId: personId }] } });
  await db(tx).practiceSafety.deleteMany({ where: { playerId: personId } });
  await db(tx).noticeChoice.deleteMany({ where: { personId } });
  await db(tx).verificationToken.deleteMany({ where: { identifier: personId } });
  await db(tx).person.update({
    where: { id: personId },
    data: {
      name: formerName(roles),
      birthDate: null,
      email: null,
      passwordHash: null,
      sessionVersion: { increment: 1 },
      bats: null,
      isDemo: false,
      timeZone: null,
      calendarKey: null,
      erasedAt: now,
      pseudonym,
    },
  });
}
