import { ownHoursSchema, type OwnHours } from '@/lib/domain/desk/hours';
import { isStaff, type Viewer } from '@/lib/domain/people/viewer';
import type { PersonId } from '@/lib/domain/shared/ids';
import { db, type Tx } from './client';

/** What a coach says of their own hours and promise; null where it is as the program's. */
export interface CoachTerms {
  hours: OwnHours | null;
  promiseHours: number | null;
}

const AS_THE_PROGRAM: CoachTerms = { hours: null, promiseHours: null };

/** The hours and the promise of somebody of the program's staff; as the program's for everybody who said nothing. */
export async function readCoachTerms(viewer: Viewer, personId: PersonId, tx?: Tx): Promise<CoachTerms> {
  if (!isStaff(viewer)) return AS_THE_PROGRAM;
  const row = await db(tx).coachHours.findUnique({
    where: { programId_personId: { programId: viewer.programId, personId } },
    select: { hours: true, promiseHours: true },
  });
  return row
    ? { hours: ownHoursSchema.nullable().parse(row.hours), promiseHours: row.promiseHours }
    : AS_THE_PROGRAM;
}
