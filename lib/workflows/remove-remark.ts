import { retireRemark } from '@/lib/data/remarks.write';
import { transaction } from '@/lib/data/transaction';
import type { Viewer } from '@/lib/domain/people/viewer';
import type { RemarkId } from '@/lib/domain/shared/ids';
import type { Ports } from './ports';

/** Takes a remark off the coach's own shelf. Where it was used it stays, in the version that was used. */
export const removeRemark = (
  { clock }: Pick<Ports, 'clock'>,
  viewer: Viewer,
  seriesId: RemarkId,
): Promise<void> => transaction(viewer, (tx) => retireRemark(viewer, tx, seriesId, clock.now()));
