import { v5 as nameBased, v7 as uuid } from 'uuid';
import { mailFor, type MailChoice, type NoticeBody, type NoticeKind } from '@/lib/domain/notices/notice';
import type { System, Viewer } from '@/lib/domain/people/viewer';
import type { NoticeId } from '@/lib/domain/shared/ids';
import { db, type Tx } from './client';
import { choicesOf, setChoices } from './mail-choices';
import { NOTICES } from './notice-ids';
import { noticesShownTo } from './visibility';

/** A notice as it is written to one person. */
export interface NewNotice {
  personId: string;
  email: string;
  /** Quiet hours hold it until then, in the list and by mail. */
  shownFrom: Date;
}

/**
 * Writes one notice to each of these people, and the mail of those who want it at once; both under one id. With
 * `once`, a name of the cause, a notice that was written before is not written again, by whichever worker. Returns how
 * many are new. For workflows: whom to tell is theirs to decide.
 */
export async function keepNotices(
  _who: Viewer | System,
  tx: Tx,
  body: NoticeBody,
  about: {
    programId: string;
    playerId: string | null;
    to: readonly NewNotice[];
    at: Date;
    once?: string | undefined;
  },
): Promise<number> {
  const { programId, playerId, at, once } = about;
  const to = [...new Map(about.to.map((one) => [one.personId, one])).values()];
  if (to.length === 0) return 0;
  const chosen = await choicesOf(
    tx,
    to.map((one) => one.personId),
    body.kind,
  );
  const idOf = (personId: string) =>
    once === undefined ? uuid() : nameBased(`${body.kind} ${once} ${personId}`, NOTICES);
  const rows = to.map((one) => ({
    ...one,
    id: idOf(one.personId),
    mail: mailFor(body.kind, chosen.get(one.personId)),
  }));
  const made = await db(tx).notice.createManyAndReturn({
    data: rows.map(({ id, personId, shownFrom, mail }) => ({
      id,
      programId,
      personId,
      playerId,
      kind: body.kind,
      data: body.data,
      path: body.data.path,
      mail,
      at,
      shownFrom,
    })),
    select: { id: true },
    skipDuplicates: true,
  });
  const isNew = new Set(made.map(({ id }) => id));
  await db(tx).outboxMail.createMany({
    data: rows
      .filter(({ id, mail }) => mail === 'at-once' && isNew.has(id))
      .map(({ id, personId, email, shownFrom }) => ({
        id,
        kind: body.kind,
        toEmail: email,
        personId,
        programId,
        data: body.data,
        notBefore: shownFrom,
      })),
  });
  return made.length;
}

/** Notes that the viewer has read one of their notices, or all that are shown to them. Returns how many were unread. */
export async function markNoticesRead(
  viewer: Viewer,
  tx: Tx,
  which: { id: NoticeId } | 'all',
  now: Date,
): Promise<number> {
  const { count } = await db(tx).notice.updateMany({
    where: {
      ...noticesShownTo(viewer, now),
      readAt: null,
      ...(which === 'all' ? {} : { id: which.id }),
    },
    data: { readAt: now },
  });
  return count;
}

/**
 * Keeps how the viewer wants to hear of these kinds by mail. Mail of a kind that is turned off and has not left yet
 * does not leave any more.
 */
export async function keepMailChoices(
  viewer: Viewer,
  tx: Tx,
  chosen: readonly { kind: NoticeKind; mail: MailChoice }[],
): Promise<void> {
  await setChoices(tx, viewer.personId, chosen);
}
