import { writeAudit } from '@/lib/data/audit.write';
import { listDrills } from '@/lib/data/drills.read';
import { addDrills } from '@/lib/data/drills.write';
import { transaction } from '@/lib/data/transaction';
import { DEFAULT_DRILLS } from '@/lib/domain/drills/default-library';
import { isStaff, type Viewer } from '@/lib/domain/people/viewer';
import { notFound } from '@/lib/domain/shared/errors';
import type { Ports } from './ports';

/** Puts the drills that come with the product into the library; those whose name is there already are left out. */
export async function fillDrills({ clock }: Pick<Ports, 'clock'>, viewer: Viewer): Promise<number> {
  if (!isStaff(viewer)) throw notFound('drill');
  return transaction(viewer, async (tx) => {
    const there = new Set((await listDrills(viewer, {}, tx)).rows.map((drill) => drill.title));
    const fresh = DEFAULT_DRILLS.filter((drill) => !there.has(drill.title));
    const ids = await addDrills(viewer, tx, fresh, clock.now());
    await writeAudit(viewer, tx, {
      action: 'drill.library-filled',
      subject: `program:${viewer.programId}`,
      data: { drills: ids.length },
    });
    return ids.length;
  });
}
