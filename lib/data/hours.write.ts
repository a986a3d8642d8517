import type { WorkingHours } from '@/lib/domain/desk/hours';
import { isLead, isStaff, type Viewer } from '@/lib/domain/people/viewer';
import { notFound } from '@/lib/domain/shared/errors';
import { db, type Tx } from './client';
import { Prisma } from './generated/client';
import type { CoachTerms } from './hours.read';

/** Sets when the viewer's program works from now on; null: round the clock. Promises given keep. Leads only. */
export async function saveProgramHours(viewer: Viewer, tx: Tx, hours: WorkingHours | null): Promise<void> {
  if (!isLead(viewer)) throw notFound('program');
  await db(tx).program.update({
    where: { id: viewer.programId },
    data: { hours: hours ?? Prisma.DbNull },
  });
}

/** Sets the viewer's own hours and promise as a coach of the program, from now on. Staff only. */
export async function saveOwnHours(viewer: Viewer, tx: Tx, terms: CoachTerms, at: Date): Promise<void> {
  if (!isStaff(viewer)) throw notFound('coach');
  const { programId, personId } = viewer;
  const data = { hours: terms.hours ?? Prisma.DbNull, promiseHours: terms.promiseHours, updatedAt: at };
  await db(tx).coachHours.upsert({
    where: { programId_personId: { programId, personId } },
    create: { programId, personId, ...data },
    update: data,
  });
}
