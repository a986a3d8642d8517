import { cancelExport as cancel } from '@/lib/data/breakdown-exports.write';
import { transaction } from '@/lib/data/transaction';
import type { Viewer } from '@/lib/domain/people/viewer';
import type { ExportId } from '@/lib/domain/shared/ids';

/** Ends the making of a file that the viewer asked for. One that is ready stays. */
export const cancelExport = async (viewer: Viewer, exportId: ExportId): Promise<void> => {
  await transaction(viewer, (tx) => cancel(viewer, tx, exportId));
};
