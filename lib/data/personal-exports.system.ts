import type { System } from '@/lib/domain/people/viewer';
import type { PersonId, ProgramId } from '@/lib/domain/shared/ids';
import { db, type Tx } from './client';

/** A copy of everything that is to be made, and who is told when it is there. */
export interface CopyToMake {
  programId: ProgramId;
  personId: PersonId;
  /** Whoever asked. */
  by: { personId: PersonId; email: string | null };
}

/** What there is to make; null when it stands, is not wanted any more, or is not there. A killed try is taken up again. */
export async function beginPersonalExport(_system: System, id: string): Promise<CopyToMake | null> {
  const { count } = await db().personalExport.updateMany({
    where: { id, state: { in: ['waiting', 'working'] } },
    data: { state: 'working', failReason: null },
  });
  if (count === 0) return null;
  const row = await db().personalExport.findUniqueOrThrow({ where: { id } });
  const people = await db().person.findMany({
    where: { id: { in: [row.personId, row.byId] } },
    select: { id: true, email: true, erasedAt: true },
  });
  if (people.some((one) => one.erasedAt !== null)) return null;
  const by = people.find((one) => one.id === row.byId);
  return {
    programId: row.programId as ProgramId,
    personId: row.personId as PersonId,
    by: { personId: row.byId as PersonId, email: by?.email ?? null },
  };
}

/** The copy stands until `expiresAt`; false when it is not wanted any more and nothing was noted. */
export async function finishPersonalExport(
  _system: System,
  tx: Tx,
  id: string,
  facts: { parts: number; sizeBytes: number; readyAt: Date; expiresAt: Date },
): Promise<boolean> {
  const { count } = await db(tx).personalExport.updateMany({
    where: { id, state: 'working' },
    data: { ...facts, state: 'ready' },
  });
  return count > 0;
}

/** Notes in a sentence why it could not be made. */
export async function failPersonalExport(_system: System, id: string, reason: string): Promise<void> {
  await db().personalExport.updateMany({
    where: { id, state: { in: ['waiting', 'working'] } },
    data: { state: 'failed', failReason: reason },
  });
}

/** Copies that were asked for and are not made, oldest first. */
export async function listUnmadePersonalExports(_system: System): Promise<string[]> {
  const rows = await db().personalExport.findMany({
    where: { state: { in: ['waiting', 'working'] } },
    orderBy: { at: 'asc' },
    take: 100,
    select: { id: true },
  });
  return rows.map((row) => row.id);
}
