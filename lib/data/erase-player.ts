import { v7 as uuid } from 'uuid';
import { NOTHING_SAID } from '@/lib/domain/lessons/intake';
import { ERASED_REPLY } from '@/lib/domain/privacy/erasure';
import { personalFolder } from '@/lib/domain/privacy/files';
import { emptySheet } from '@/lib/domain/review/sheet';
import { db, type Tx } from './client';
import { letFilesGo, stripMedia } from './strip-media';

/** Whom and where: everything below is about one person in one program. */
export interface Erasing {
  personId: string;
  programId: string;
  now: Date;
}

const OPEN = ['draft', 'submitted', 'in_review'] as const;

/**
 * Empties the thread of a player: files, words, marks, verdicts, replies, breakdowns, practice. Rows and numbers stay,
 * and so does what the ledger says. Needs `allowBlanking`.
 */
export async function erasePlayer(tx: Tx, { personId, programId, now }: Erasing): Promise<void> {
  const threads = await db(tx).thread.findMany({
    where: { programId, playerId: personId },
    select: { id: true },
  });
  const threadId = { in: threads.map((one) => one.id) };
  const lesson = { threadId };
  await stripMedia(tx, { clips: { lesson }, breakdowns: { lesson } }, now);
  await eraseLessons(tx, lesson, now);
  await eraseReplies(tx, { threadId });
  await db(tx).checkIn.deleteMany({ where: { assignment: { programId, playerId: personId } } });
  await db(tx).assignment.updateMany({
    where: { programId, playerId: personId, endedAt: null },
    data: { endedAt: now },
  });
  await db(tx).assignment.updateMany({
    where: { programId, playerId: personId },
    data: { cue: '', pauseReason: null, swingBy: null },
  });
  await db(tx).measureTarget.deleteMany({ where: { programId, playerId: personId } });
  await db(tx).legalHold.updateMany({ where: { programId, playerId: personId }, data: { reason: '' } });
}

async function eraseLessons(tx: Tx, where: { threadId: { in: string[] } }, now: Date): Promise<void> {
  const rows = await db(tx).lesson.findMany({ where, select: { id: true, state: true, startedById: true } });
  const lessonId = { in: rows.map((row) => row.id) };
  const open = rows.filter((row) => OPEN.some((state) => state === row.state));
  await db(tx).lessonEvent.createMany({
    data: open.map((row) => ({
      ...{ id: uuid(), lessonId: row.id, kind: 'withdrawn' as const, actorId: row.startedById, at: now },
    })),
  });
  await db(tx).lesson.updateMany({
    where: { id: { in: open.map((row) => row.id) } },
    data: { state: 'withdrawn' },
  });
  await db(tx).lesson.updateMany({
    where,
    data: NOTHING_SAID,
  });
  await db(tx).lessonEvent.updateMany({
    where: { lessonId, reason: { not: null } },
    data: { reason: null },
  });
  await db(tx).review.updateMany({ where: { lessonId }, data: { sheet: emptySheet() } });
  await db(tx).return.updateMany({ where: { lessonId }, data: { sheet: emptySheet(), fixFirst: '' } });
  await db(tx).handOver.updateMany({ where: { lessonId }, data: { note: '' } });
  await db(tx).promiseMove.updateMany({ where: { lessonId }, data: { reason: '' } });
  await db(tx).lessonView.deleteMany({ where: { lessonId } });
  await db(tx).readMark.deleteMany({ where: { lessonId } });
  const paths = rows.map((row) => `/lessons/${row.id}%`);
  await db(tx).$executeRaw`
    DELETE FROM "OutboxMail" WHERE "sentAt" IS NULL AND data ->> 'path' LIKE ANY (${paths})`;
}

/** Replies lose their words and what they hang on; that somebody replied then stays. Needs `allowBlanking`. */
export async function eraseReplies(
  tx: Tx,
  where: { threadId: { in: string[] } } | { id: { in: string[] } },
): Promise<void> {
  await db(tx).replyEdit.updateMany({ where: { reply: where, body: { not: '' } }, data: { body: '' } });
  await db(tx).reply.updateMany({
    where,
    data: { body: ERASED_REPLY, clipId: null, frame: null, breakdownId: null, momentMs: null },
  });
}

/** What a person left behind beside lessons: notices, invitations, copies, what they read and watched. */
export async function eraseTraces(
  tx: Tx,
  { personId, programId, now }: Erasing,
  { email, name }: { email: string | null; name: string },
): Promise<void> {
  const mine = { personId, programId };
  // In the notices of others somebody stands by name: as who wrote, or as who is to be erased.
  const naming = await db(tx).$queryRaw<{ id: string }[]>`
    SELECT id FROM "Notice" WHERE "programId" = ${programId}::uuid
      AND EXISTS (SELECT FROM jsonb_each_text(data) field WHERE field.value = ${name})`;
  const about = {
    programId,
    OR: [{ personId }, { playerId: personId }, { id: { in: naming.map((one) => one.id) } }],
  };
  const notices = await db(tx).notice.findMany({ where: about, select: { id: true } });
  // The mail of a notice has its id.
  const mails = [mine, { id: { in: notices.map((one) => one.id) } }];
  await db(tx).outboxMail.deleteMany({ where: { sentAt: null, OR: mails } });
  await db(tx).notice.deleteMany({ where: about });
  await db(tx).$executeRaw`
    DELETE FROM "OutboxMail" WHERE "sentAt" IS NULL
      AND data ->> 'path' LIKE ANY (${[`/players/${personId}%`, `/everything/${personId}%`]})`;
  await db(tx).invitation.deleteMany({
    where: { programId, OR: [{ playerId: personId }, ...(email ? [{ email }] : [])] },
  });
  await db(tx).lessonView.deleteMany({ where: { personId, lesson: { programId } } });
  await db(tx).readMark.deleteMany({ where: { personId, lesson: { programId } } });
  await db(tx).breakdownView.deleteMany({ where: { personId, breakdown: { lesson: { programId } } } });
  await db(tx).captionAsk.deleteMany({ where: { personId, breakdown: { lesson: { programId } } } });
  const copies = await db(tx).personalExport.findMany({
    where: { programId, OR: [{ personId }, { byId: personId }] },
    select: { id: true },
  });
  const ids = copies.map((one) => one.id);
  await db(tx).personalExport.updateMany({
    where: { id: { in: ids } },
    data: { state: 'expired', parts: 0 },
  });
  await letFilesGo(tx, ids.map(personalFolder), now);
}
