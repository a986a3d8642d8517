import { writeAudit } from '@/lib/data/audit.write';
import { saveProgramHours } from '@/lib/data/hours.write';
import { readProgram } from '@/lib/data/program.read';
import { transaction } from '@/lib/data/transaction';
import type { WorkingHours } from '@/lib/domain/desk/hours';
import { promisedBy, type PromiseTerms } from '@/lib/domain/lessons/promise';
import type { Viewer } from '@/lib/domain/people/viewer';
import { CagepostError } from '@/lib/domain/shared/errors';
import type { Ports } from './ports';

const LONGEST_DAYS = 60;

/** Refuses hours so short, or so many days off, that nobody would wait for the answer. */
export function assertAnswered(terms: PromiseTerms, now: Date): void {
  const days = (promisedBy(now, terms).getTime() - now.getTime()) / (24 * 3_600_000);
  if (days <= LONGEST_DAYS) return;
  throw new CagepostError(
    'invalid',
    `With these hours a lesson sent now would be answered in ${Math.round(days)} days. Give the week more hours, or promise fewer of them. Nothing was changed.`,
  );
}

/** A lead sets when the program works, or with null round the clock. It holds for lessons sent from now on. */
export async function setHours(
  { clock }: Pick<Ports, 'clock'>,
  viewer: Viewer,
  hours: WorkingHours | null,
): Promise<void> {
  await transaction(viewer, async (tx) => {
    assertAnswered({ ...(await readProgram(viewer, tx)), hours }, clock.now());
    await saveProgramHours(viewer, tx, hours);
    await writeAudit(viewer, tx, {
      action: 'hours.changed',
      subject: `program:${viewer.programId}`,
      data: { isSet: hours !== null, daysOff: hours?.daysOff.length ?? 0 },
    });
  });
}
