import { renameRemark as rename } from '@/lib/data/remarks.write';
import { transaction } from '@/lib/data/transaction';
import type { Viewer } from '@/lib/domain/people/viewer';
import type { RemarkId } from '@/lib/domain/shared/ids';

/** Gives a remark of the coach's own shelf another title. */
export const renameRemark = (viewer: Viewer, input: { seriesId: RemarkId; title: string }): Promise<void> =>
  transaction(viewer, (tx) => rename(viewer, tx, input.seriesId, input.title.trim()));
