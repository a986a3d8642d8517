import { MAIL_CHOICES, type MailChoice, type NoticeKind } from '@/lib/domain/notices/notice';
import { db, type Tx } from './client';

// How people chose to hear by mail, for the files of this folder that were told whose it is.

/** What these people chose of one kind; who chose nothing is absent. */
export async function choicesOf(
  tx: Tx,
  personIds: string[],
  kind: NoticeKind,
): Promise<ReadonlyMap<string, MailChoice>> {
  const rows = await db(tx).noticeChoice.findMany({
    where: { personId: { in: personIds }, kind },
    select: { personId: true, mail: true },
  });
  return new Map(
    rows.flatMap(({ personId, mail }) => {
      const choice = MAIL_CHOICES.find((one) => one === mail);
      return choice ? [[personId, choice] as const] : [];
    }),
  );
}

/** Keeps choices; mail of a kind that is turned off and has not left yet does not leave any more. */
export async function setChoices(
  tx: Tx,
  personId: string,
  chosen: readonly { kind: NoticeKind; mail: MailChoice }[],
): Promise<void> {
  for (const { kind, mail } of chosen) {
    await db(tx).noticeChoice.upsert({
      where: { personId_kind: { personId, kind } },
      create: { personId, kind, mail },
      update: { mail },
    });
    if (mail !== 'off') continue;
    await db(tx).outboxMail.deleteMany({ where: { personId, kind, sentAt: null } });
    await db(tx).notice.updateMany({
      where: { personId, kind, mail: 'daily', digestedAt: null },
      data: { mail: 'off' },
    });
  }
}
