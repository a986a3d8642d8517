import type { System } from '@/lib/domain/people/viewer';
import { mailDataSchema, type MailBody } from '@/lib/domain/notices/mail';
import { db, prisma, type Tx } from './client';

/** A mail that is due, with how often it was tried. `body` is null when the stored data no longer parses. */
export interface DueMail {
  id: string;
  to: string;
  attempts: number;
  body: MailBody | null;
}

/** After this many failures, three days of trying, a mail is left for a person to look at. */
const MOST_ATTEMPTS = 80;

/**
 * Takes the next due mail for this transaction; other drainers skip it while the lock is held. Null when none is due.
 */
export async function takeDueMail(_system: System, tx: Tx, now: Date): Promise<DueMail | null> {
  const [row] = await db(tx).$queryRaw<
    { id: string; kind: string; toEmail: string; data: unknown; attempts: number }[]
  >`
    SELECT id, kind, "toEmail", data, attempts FROM "OutboxMail"
    WHERE "sentAt" IS NULL AND "notBefore" <= ${now} AND attempts < ${MOST_ATTEMPTS}
    ORDER BY "notBefore", id
    LIMIT 1
    FOR UPDATE SKIP LOCKED`;
  if (!row) return null;
  const body = mailDataSchema.safeParse({ kind: row.kind, data: row.data });
  return { id: row.id, to: row.toEmail, attempts: row.attempts, body: body.success ? body.data : null };
}

/** Notes that a mail left, and forgets what it said: the link of an invitation is not kept beside its hash. */
export async function markMailSent(_system: System, tx: Tx, id: string, at: Date): Promise<void> {
  await db(tx).outboxMail.update({ where: { id }, data: { sentAt: at, lastError: null, data: {} } });
}

/** Notes that a mail could not leave, and when to try again. */
export async function markMailFailed(
  _system: System,
  tx: Tx,
  id: string,
  error: string,
  again: Date,
): Promise<void> {
  await db(tx).outboxMail.update({
    where: { id },
    data: { attempts: { increment: 1 }, lastError: error.slice(0, 500), notBefore: again },
  });
}

/** How many mails wait, and how many have failed too often. For health and tests. */
export async function countOutbox(_system: System): Promise<{ waiting: number; stuck: number }> {
  const waiting = await prisma.outboxMail.count({ where: { sentAt: null, attempts: { lt: MOST_ATTEMPTS } } });
  const stuck = await prisma.outboxMail.count({ where: { sentAt: null, attempts: { gte: MOST_ATTEMPTS } } });
  return { waiting, stuck };
}
