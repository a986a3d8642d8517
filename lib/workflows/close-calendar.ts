import { writeAudit } from '@/lib/data/audit.write';
import { keepCalendarKey } from '@/lib/data/calendar.write';
import { transaction } from '@/lib/data/transaction';
import type { Viewer } from '@/lib/domain/people/viewer';

/** Ends the secret address of the viewer's calendar. Whoever copied it gets nothing any more. */
export const closeCalendar = (viewer: Viewer): Promise<void> =>
  transaction(viewer, async (tx) => {
    await keepCalendarKey(viewer, tx, null);
    await writeAudit(viewer, tx, { action: 'calendar.closed', subject: `person:${viewer.personId}` });
  });
