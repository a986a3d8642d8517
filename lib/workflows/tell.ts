import { keepNotices } from '@/lib/data/notices.write';
import type { Tx } from '@/lib/data/transaction';
import type { NoticeBody } from '@/lib/domain/notices/notice';
import type { System, Viewer } from '@/lib/domain/people/viewer';

/** Whom to tell: everybody once, each not before `at`. */
export interface Telling {
  programId: string;
  /** Whom it is about, so that it goes when that player is erased; null for nobody. */
  playerId: string | null;
  to: readonly { personId: string; email: string; at: Date }[];
  now: Date;
  /** Names the cause where it may be told again: by two workers, or by the same one an hour later. */
  once?: string;
}

/**
 * The one place from which people are told of anything: a line in each one's list of notices, and a mail as each one
 * chose, in the transaction of the cause. Returns how many were told who had not been before.
 */
export const tell = (
  who: Viewer | System,
  tx: Tx,
  body: NoticeBody,
  { programId, playerId, to, now, once }: Telling,
): Promise<number> =>
  keepNotices(who, tx, body, {
    programId,
    playerId,
    to: to.map(({ personId, email, at }) => ({ personId, email, shownFrom: at })),
    at: now,
    once,
  });
