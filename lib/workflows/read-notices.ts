import { markNoticesRead } from '@/lib/data/notices.write';
import { transaction } from '@/lib/data/transaction';
import type { Viewer } from '@/lib/domain/people/viewer';
import type { NoticeId } from '@/lib/domain/shared/ids';
import type { Ports } from './ports';

/** The viewer has read one of their notices, or all that are shown to them. Returns how many were unread. */
export const readNotices = (
  { clock }: Pick<Ports, 'clock'>,
  viewer: Viewer,
  which: { id: NoticeId } | 'all',
): Promise<number> => transaction(viewer, (tx) => markNoticesRead(viewer, tx, which, clock.now()));
