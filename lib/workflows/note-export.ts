import { writeAudit } from '@/lib/data/audit.write';
import { assertMayExport } from '@/lib/data/breakdown-exports.write';
import { transaction } from '@/lib/data/transaction';
import type { ExportCaptions } from '@/lib/domain/breakdowns/breakdown';
import type { Viewer } from '@/lib/domain/people/viewer';
import type { BreakdownId } from '@/lib/domain/shared/ids';
import type { Ports } from './ports';

/** Writes down that somebody makes a file of a breakdown in their browser; refuses who may not, before it begins. */
export const noteExport = (
  { clock }: Pick<Ports, 'clock'>,
  viewer: Viewer,
  input: { breakdownId: BreakdownId; captions: ExportCaptions },
): Promise<void> =>
  transaction(viewer, async (tx) => {
    await assertMayExport(viewer, tx, input.breakdownId, clock.now());
    await writeAudit(viewer, tx, {
      action: 'breakdown.exported',
      subject: `breakdown:${input.breakdownId}`,
      data: { captions: input.captions, where: 'browser' },
    });
  });
