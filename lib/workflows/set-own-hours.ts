import { writeAudit } from '@/lib/data/audit.write';
import type { CoachTerms } from '@/lib/data/hours.read';
import { saveOwnHours } from '@/lib/data/hours.write';
import { readProgram } from '@/lib/data/program.read';
import { transaction } from '@/lib/data/transaction';
import { isStaff, type Viewer } from '@/lib/domain/people/viewer';
import { CagepostError, notFound } from '@/lib/domain/shared/errors';
import type { Ports } from './ports';

/**
 * A coach says when they work and whether they promise an answer sooner than the program. Promises given keep; being
 * away shows where lessons are given out.
 */
export async function setOwnHours(
  { clock }: Pick<Ports, 'clock'>,
  viewer: Viewer,
  terms: CoachTerms,
): Promise<void> {
  if (!isStaff(viewer)) throw notFound('coach');
  await transaction(viewer, async (tx) => {
    const program = await readProgram(viewer, tx);
    if (terms.promiseHours !== null && terms.promiseHours > program.promiseHours) {
      throw new CagepostError(
        'invalid',
        `The program promises an answer within ${program.promiseHours} hours; your own promise can only be shorter. Nothing was changed.`,
      );
    }
    await saveOwnHours(viewer, tx, terms, clock.now());
    await writeAudit(viewer, tx, {
      action: 'hours.own',
      subject: `person:${viewer.personId}`,
      data: { promiseHours: terms.promiseHours, isOwnWeek: (terms.hours?.week ?? null) !== null },
    });
  });
}
