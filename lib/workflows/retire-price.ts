import { writeAudit } from '@/lib/data/audit.write';
import { retirePrice as takeOff } from '@/lib/data/prices.write';
import { transaction } from '@/lib/data/transaction';
import { isLead, type Viewer } from '@/lib/domain/people/viewer';
import { notFound } from '@/lib/domain/shared/errors';
import type { Ports } from './ports';

/** Takes a pack off the price list. Packs that were sold stay valid. By a lead. */
export async function retirePrice(
  { clock }: Pick<Ports, 'clock'>,
  viewer: Viewer,
  seriesId: string,
): Promise<void> {
  if (!isLead(viewer)) throw notFound('price');
  await transaction(viewer, async (tx) => {
    await takeOff(viewer, tx, seriesId, clock.now());
    await writeAudit(viewer, tx, { action: 'price.retired', subject: `price:${seriesId}` });
  });
}
