import { writeAudit } from '@/lib/data/audit.write';
import { savePrice as keepPrice } from '@/lib/data/prices.write';
import { readProgram } from '@/lib/data/program.read';
import { transaction } from '@/lib/data/transaction';
import { priceFault, type PriceDraft } from '@/lib/domain/billing/prices';
import { isLead, type Viewer } from '@/lib/domain/people/viewer';
import { CagepostError, notFound } from '@/lib/domain/shared/errors';
import type { Ports } from './ports';

/**
 * Puts a line on the price list, or its next version. `seriesId` is minted by the browser for a new line. What was
 * bought keeps its price. By a lead.
 */
export async function savePrice(
  { clock }: Pick<Ports, 'clock'>,
  viewer: Viewer,
  input: PriceDraft & { seriesId: string },
): Promise<void> {
  if (!isLead(viewer)) throw notFound('price');
  const fault = priceFault(input);
  if (fault) throw new CagepostError('invalid', fault);
  await transaction(viewer, async (tx) => {
    const { currency } = await readProgram(viewer, tx);
    const line = { ...input, label: input.label.trim(), currency, at: clock.now() };
    if (!(await keepPrice(viewer, tx, line))) return;
    await writeAudit(viewer, tx, { action: 'price.changed', subject: `price:${input.seriesId}` });
  });
}
