import {
  MAIL_CHOICES,
  noticeDataSchema,
  type MailChoice,
  type NoticeBody,
} from '@/lib/domain/notices/notice';
import type { Viewer } from '@/lib/domain/people/viewer';
import type { NoticeId } from '@/lib/domain/shared/ids';
import { prisma } from './client';
import { noticesShownTo } from './visibility';

/** A notice as one line of its reader's list. */
export interface NoticeLine {
  id: NoticeId;
  body: NoticeBody;
  /** When it came to the reader: quiet hours may have held it. */
  shownFrom: Date;
  isRead: boolean;
}

/** How many unread notices are counted at most; more are "99 and more". */
const MOST_COUNTED = 100;

const AT_A_TIME = 30;

/** How many of the viewer's notices are unread; counted up to `MOST_COUNTED`. */
export async function countUnread(viewer: Viewer, now: Date): Promise<number> {
  const rows = await prisma.notice.findMany({
    where: { ...noticesShownTo(viewer, now), readAt: null },
    select: { id: true },
    take: MOST_COUNTED,
  });
  return rows.length;
}

/** The viewer's notices, newest first, thirty at a time. `next` is what to go on after; null at the end. */
export async function listNotices(
  viewer: Viewer,
  now: Date,
  after?: NoticeId,
): Promise<{ rows: NoticeLine[]; next: NoticeId | null }> {
  const last = after
    ? await prisma.notice.findFirst({
        where: { AND: [{ id: after }, noticesShownTo(viewer, now)] },
        select: { id: true, shownFrom: true },
      })
    : null;
  const rows = await prisma.notice.findMany({
    where: {
      AND: [
        noticesShownTo(viewer, now),
        last
          ? {
              OR: [{ shownFrom: { lt: last.shownFrom } }, { shownFrom: last.shownFrom, id: { lt: last.id } }],
            }
          : {},
      ],
    },
    select: { id: true, kind: true, data: true, shownFrom: true, readAt: true },
    orderBy: [{ shownFrom: 'desc' }, { id: 'desc' }],
    take: AT_A_TIME + 1,
  });
  return {
    rows: rows.slice(0, AT_A_TIME).flatMap(({ id, kind, data, shownFrom, readAt }) => {
      const body = noticeDataSchema.safeParse({ kind, data });
      return body.success
        ? [{ id: id as NoticeId, body: body.data, shownFrom, isRead: readAt !== null }]
        : [];
    }),
    // Not the last line: a notice that no longer reads as one has none.
    next: rows.length > AT_A_TIME ? ((rows[AT_A_TIME - 1]?.id ?? null) as NoticeId | null) : null,
  };
}

/** What the viewer chose of each kind, in every program; kinds of which nothing was chosen are absent. */
export async function listMailChoices(viewer: Viewer): Promise<ReadonlyMap<string, MailChoice>> {
  const rows = await prisma.noticeChoice.findMany({
    where: { personId: viewer.personId },
    select: { kind: true, mail: true },
  });
  return new Map(
    rows.flatMap(({ kind, mail }) => {
      const chosen = MAIL_CHOICES.find((choice) => choice === mail);
      return chosen ? [[kind, chosen] as const] : [];
    }),
  );
}
