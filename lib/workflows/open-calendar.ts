import { writeAudit } from '@/lib/data/audit.write';
import { keepCalendarKey } from '@/lib/data/calendar.write';
import { transaction } from '@/lib/data/transaction';
import type { Viewer } from '@/lib/domain/people/viewer';
import type { Ports } from './ports';

/**
 * Staff get a secret address for the calendar of their promised times; one that stood before ends. Answers the secret,
 * this once: only its hash is kept.
 */
export const openCalendar = ({ ids }: Pick<Ports, 'ids'>, viewer: Viewer): Promise<{ secret: string }> =>
  transaction(viewer, async (tx) => {
    const secret = ids.token();
    await keepCalendarKey(viewer, tx, secret);
    await writeAudit(viewer, tx, { action: 'calendar.opened', subject: `person:${viewer.personId}` });
    return { secret };
  });
