import { isChoosable, noticeKinds, type NoticeKind } from './notice';

/** What one click can end: a kind of notice, or the daily mail. */
export type Stoppable = NoticeKind | 'digest';

/** The kind, if its mail can be ended; null for an invitation and for what keeps somebody from harm. */
export const stoppable = (kind: string): Stoppable | null => {
  if (kind === 'digest') return kind;
  const known = noticeKinds.find((one) => one === kind);
  return known && isChoosable(known) ? known : null;
};
