import { writeAudit } from '@/lib/data/audit.write';
import { readProgram } from '@/lib/data/program.read';
import { saveProgramZone } from '@/lib/data/program.write';
import { transaction } from '@/lib/data/transaction';
import { isLead, type Viewer } from '@/lib/domain/people/viewer';
import { CagepostError, notFound } from '@/lib/domain/shared/errors';

/**
 * Sets the zone of the program (IANA name): its days, working hours and quiet hours follow it from now on. Promises
 * that were given are instants and stay. For leads.
 */
export async function setProgramZone(viewer: Viewer, { timeZone }: { timeZone: string }): Promise<void> {
  if (!isLead(viewer)) throw notFound('program');
  if (!Intl.supportedValuesOf('timeZone').includes(timeZone) && timeZone !== 'UTC') {
    throw new CagepostError('invalid', 'Choose a zone from the list. Nothing was changed.');
  }
  await transaction(viewer, async (tx) => {
    const before = await readProgram(viewer, tx);
    if (before.timeZone === timeZone) return;
    await saveProgramZone(viewer, tx, timeZone);
    await writeAudit(viewer, tx, {
      action: 'program.zone',
      subject: `program:${viewer.programId}`,
      data: { from: before.timeZone, to: timeZone },
    });
  });
}
