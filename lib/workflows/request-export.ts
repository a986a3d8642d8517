import { writeAudit } from '@/lib/data/audit.write';
import { createExport } from '@/lib/data/breakdown-exports.write';
import { transaction } from '@/lib/data/transaction';
import type { ExportCaptions } from '@/lib/domain/breakdowns/breakdown';
import type { Viewer } from '@/lib/domain/people/viewer';
import type { BreakdownId, ExportId } from '@/lib/domain/shared/ids';
import type { Ports } from './ports';

/** Asks for a file of a breakdown, made by the worker; the same id again is the same file. For a minor: guardians and staff. */
export const requestExport = (
  { clock, queue }: Pick<Ports, 'clock' | 'queue'>,
  viewer: Viewer,
  input: { exportId: ExportId; breakdownId: BreakdownId; captions: ExportCaptions },
): Promise<void> =>
  transaction(viewer, async (tx) => {
    const { exportId: id, breakdownId, captions } = input;
    if (!(await createExport(viewer, tx, { id, breakdownId, captions, at: clock.now() }))) return;
    await queue.renderExport(id, tx);
    await writeAudit(viewer, tx, {
      action: 'breakdown.exported',
      subject: `breakdown:${breakdownId}`,
      data: { captions, where: 'server', export: id },
    });
  });
