import { v5 as nameBased } from 'uuid';
import {
  isChoosable,
  mailFor,
  MAIL_CHOICES,
  noticeDataSchema,
  noticeKinds,
  type NoticeBody,
} from '@/lib/domain/notices/notice';
import type { Stoppable } from '@/lib/domain/notices/stop';
import type { System } from '@/lib/domain/people/viewer';
import { db, type Tx } from './client';
import { setChoices } from './mail-choices';
import { NOTICES } from './notice-ids';

/**
 * Ends one kind of mail for one person, or the daily mail with every kind in it. Returns false for somebody who is not
 * there any more; ended twice it stays ended.
 */
export async function stopMail(
  _system: System,
  tx: Tx,
  { personId, kind }: { personId: string; kind: Stoppable },
): Promise<boolean> {
  const person = await db(tx).person.findUnique({
    where: { id: personId },
    select: { noticeChoices: { select: { kind: true, mail: true } } },
  });
  if (!person) return false;
  const kinds = kind === 'digest' ? noticeKinds.filter((one) => isDaily(one, person.noticeChoices)) : [kind];
  await setChoices(
    tx,
    personId,
    kinds.map((one) => ({ kind: one, mail: 'off' })),
  );
  if (kind === 'digest')
    await db(tx).outboxMail.deleteMany({ where: { personId, kind: 'digest', sentAt: null } });
  return true;
}

const isDaily = (
  kind: (typeof noticeKinds)[number],
  chosen: readonly { kind: string; mail: string }[],
): boolean => {
  const said = chosen.find((one) => one.kind === kind)?.mail;
  return (
    isChoosable(kind) &&
    mailFor(
      kind,
      MAIL_CHOICES.find((one) => one === said),
    ) === 'daily'
  );
};

/** Somebody for whom notices of one program wait to be gathered into a daily mail. */
export interface DigestReader {
  personId: string;
  email: string;
  /** Their own, or else the program's. */
  timeZone: string;
  program: { id: string; name: string };
}

/** Everybody for whom a daily mail has something, at most a thousand at a time. */
export async function listDigestReaders(_system: System, now: Date): Promise<DigestReader[]> {
  const groups = await db().notice.groupBy({
    by: ['personId', 'programId'],
    where: { mail: 'daily', digestedAt: null, shownFrom: { lte: now } },
    orderBy: [{ personId: 'asc' }, { programId: 'asc' }],
    take: 1000,
  });
  const people = await db().person.findMany({
    where: { id: { in: groups.map(({ personId }) => personId) }, email: { not: null } },
    select: { id: true, email: true, timeZone: true },
  });
  const programs = await db().program.findMany({
    where: { id: { in: groups.map(({ programId }) => programId) } },
    select: { id: true, name: true, timeZone: true },
  });
  return groups.flatMap(({ personId, programId }) => {
    const person = people.find((one) => one.id === personId);
    const program = programs.find((one) => one.id === programId);
    return person?.email && program
      ? [
          {
            personId,
            email: person.email,
            timeZone: person.timeZone ?? program.timeZone,
            program: { id: program.id, name: program.name },
          },
        ]
      : [];
  });
}

/**
 * Takes what waits for a reader up to that morning, oldest first, and says of each whether it was read already; `id` is
 * for the mail. Null when another worker has taken it, or when the mail of that morning was written before: what came
 * late goes with the next. The reader is locked meanwhile.
 */
export async function takeForDigest(
  _system: System,
  tx: Tx,
  { personId, program }: Pick<DigestReader, 'personId' | 'program'>,
  { morning, now }: { morning: Date; now: Date },
): Promise<{ id: string; notices: { body: NoticeBody; isRead: boolean }[] } | null> {
  await db(tx).$queryRaw`SELECT 1 FROM "Person" WHERE id = ${personId}::uuid FOR UPDATE`;
  const id = nameBased(`digest ${program.id} ${personId} ${morning.toISOString()}`, NOTICES);
  if ((await db(tx).outboxMail.count({ where: { id } })) > 0) return null;
  const rows = await db(tx).notice.findMany({
    where: {
      personId,
      programId: program.id,
      mail: 'daily',
      digestedAt: null,
      shownFrom: { lte: morning },
    },
    select: { id: true, kind: true, data: true, readAt: true },
    orderBy: [{ shownFrom: 'asc' }, { id: 'asc' }],
  });
  if (rows.length === 0) return null;
  await db(tx).notice.updateMany({
    where: { id: { in: rows.map((row) => row.id) } },
    data: { digestedAt: now },
  });
  const notices = rows.flatMap(({ kind, data, readAt }) => {
    const body = noticeDataSchema.safeParse({ kind, data });
    return body.success ? [{ body: body.data, isRead: readAt !== null }] : [];
  });
  return { id, notices };
}
