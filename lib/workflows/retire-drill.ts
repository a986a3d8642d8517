import { writeAudit } from '@/lib/data/audit.write';
import { retireDrill as retire } from '@/lib/data/drills.write';
import { transaction } from '@/lib/data/transaction';
import type { DrillId } from '@/lib/domain/drills/drill';
import type { Viewer } from '@/lib/domain/people/viewer';
import type { Ports } from './ports';

/** Takes a drill out of the library; lessons that gave it keep it. */
export const retireDrill = (
  { clock }: Pick<Ports, 'clock'>,
  viewer: Viewer,
  drillId: DrillId,
): Promise<void> =>
  transaction(viewer, async (tx) => {
    await retire(viewer, tx, drillId, clock.now());
    await writeAudit(viewer, tx, { action: 'drill.retired', subject: `drill:${drillId}` });
  });
