import type { Viewer } from '@/lib/domain/people/viewer';
import { CagepostError, notFound } from '@/lib/domain/shared/errors';
import type { PersonId } from '@/lib/domain/shared/ids';
import { db, type Tx } from './client';
import { readSubject, type Subject } from './subjects.read';

async function mustSpeakFor(viewer: Viewer, tx: Tx, personId: PersonId): Promise<Subject> {
  await db(tx).$queryRaw`SELECT 1 FROM "Person" WHERE id = ${personId}::uuid FOR UPDATE`;
  const subject = await readSubject(viewer, personId, tx);
  if (!subject) throw notFound('person');
  return subject;
}

/**
 * Keeps that everything about a person is to be erased at `dueAt`. For whoever may speak for them. Answers null when that
 * was asked for before and is still waiting. Refuses (`wrong-state`) the last lead of a program.
 */
export async function askErasure(
  viewer: Viewer,
  tx: Tx,
  request: { id: string; personId: PersonId },
  times: { at: Date; dueAt: Date },
): Promise<Subject | null> {
  const subject = await mustSpeakFor(viewer, tx, request.personId);
  const { programId } = viewer;
  if (subject.roles.includes('lead')) {
    const leads = await db(tx).membership.count({ where: { programId, role: 'lead' } });
    if (leads < 2) {
      throw new CagepostError(
        'wrong-state',
        'A program needs a lead. Make somebody else a lead first; nothing was changed.',
      );
    }
  }
  const waiting = { programId, personId: request.personId, cancelledAt: null, doneAt: null };
  if ((await db(tx).erasureRequest.count({ where: waiting })) > 0) return null;
  await db(tx).erasureRequest.createMany({
    data: [{ ...request, programId, byId: viewer.personId, ...times }],
    skipDuplicates: true,
  });
  return subject;
}

/**
 * Takes an erasure back while it has not been done. For whoever may speak for the person. Answers the person, or null
 * when it was taken back before.
 */
export async function cancelErasure(viewer: Viewer, tx: Tx, id: string, at: Date): Promise<Subject | null> {
  const request = await db(tx).erasureRequest.findFirst({
    where: { id, programId: viewer.programId },
    select: { personId: true },
  });
  if (!request) throw notFound('request');
  const subject = await mustSpeakFor(viewer, tx, request.personId as PersonId);
  const { count } = await db(tx).erasureRequest.updateMany({
    where: { id, cancelledAt: null, doneAt: null },
    data: { cancelledAt: at, cancelledById: viewer.personId },
  });
  return count === 1 ? subject : null;
}

/**
 * Keeps that the viewer wants a copy of everything about a person. For whoever may speak for them. Answers the copy that
 * is being made already, or the new one.
 */
export async function askPersonalExport(
  viewer: Viewer,
  tx: Tx,
  request: { id: string; personId: PersonId },
  at: Date,
): Promise<{ id: string; isNew: boolean }> {
  await mustSpeakFor(viewer, tx, request.personId);
  const mine = { programId: viewer.programId, personId: request.personId, byId: viewer.personId };
  const waiting = await db(tx).personalExport.findFirst({
    where: { ...mine, OR: [{ id: request.id }, { state: { in: ['waiting', 'working'] } }] },
    select: { id: true },
  });
  if (waiting) return { id: waiting.id, isNew: false };
  const { count } = await db(tx).personalExport.createMany({
    data: [{ ...mine, id: request.id, at }],
    skipDuplicates: true,
  });
  if (count === 0) throw notFound('copy');
  return { id: request.id, isNew: true };
}

/** The leads of the viewer's program with their addresses, for a notice about an erasure. Used by workflows only. */
export async function listLeadsToTell(
  viewer: Viewer,
  tx: Tx,
): Promise<{ personId: PersonId; email: string | null }[]> {
  if (viewer.roles.length === 0) return [];
  const rows = await db(tx).person.findMany({
    where: { memberships: { some: { programId: viewer.programId, role: 'lead' } } },
    select: { id: true, email: true },
    orderBy: { id: 'asc' },
  });
  return rows.map((row) => ({ personId: row.id as PersonId, email: row.email }));
}
