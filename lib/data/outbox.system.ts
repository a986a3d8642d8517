import type { MailReader } from '@/lib/domain/notices/quiet-hours';
import { dayOfDate } from '@/lib/domain/people/age';
import type { System } from '@/lib/domain/people/viewer';
import { mailDataSchema, type MailBody } from '@/lib/domain/notices/mail';
import { db, prisma, type Tx } from './client';

/** A mail that is due, with how often it was tried. `body` is null when the stored data no longer parses. */
export interface DueMail {
  id: string;
  to: string;
  attempts: number;
  body: MailBody | null;
  /** Whose address it is; null for somebody who is only invited. */
  personId: string | null;
  /** What decides whether it may leave at this hour; null for an address that nobody has. */
  reader: MailReader | null;
}

/** After this many failures, three days of trying, a mail is left for a person to look at. */
const MOST_ATTEMPTS = 80;

/**
 * Takes the next due mail for this transaction; other drainers skip it while the lock is held. Null when none is due.
 */
export async function takeDueMail(_system: System, tx: Tx, now: Date): Promise<DueMail | null> {
  const [row] = await db(tx).$queryRaw<
    {
      id: string;
      kind: string;
      toEmail: string;
      data: unknown;
      attempts: number;
      personId: string | null;
      programId: string | null;
    }[]
  >`
    SELECT id, kind, "toEmail", data, attempts, "personId", "programId" FROM "OutboxMail"
    WHERE "sentAt" IS NULL AND "notBefore" <= ${now} AND attempts < ${MOST_ATTEMPTS}
    ORDER BY "notBefore", id
    LIMIT 1
    FOR UPDATE SKIP LOCKED`;
  if (!row) return null;
  const body = mailDataSchema.safeParse({ kind: row.kind, data: row.data });
  return {
    id: row.id,
    to: row.toEmail,
    attempts: row.attempts,
    body: body.success ? body.data : null,
    personId: row.personId,
    reader: await readerOf(tx, row),
  };
}

// By the address where the mail does not know whose it is: one that was written before it did, or an invitation.
async function readerOf(
  tx: Tx,
  { personId, programId, toEmail }: { personId: string | null; programId: string | null; toEmail: string },
): Promise<MailReader | null> {
  const person = await db(tx).person.findFirst({
    where: personId ? { id: personId } : { email: toEmail },
    select: {
      birthDate: true,
      timeZone: true,
      memberships: {
        select: { programId: true, role: true, program: { select: { timeZone: true } } },
        orderBy: { createdAt: 'asc' },
      },
    },
  });
  if (!person) return null;
  const place = person.memberships.find((one) => one.programId === programId) ?? person.memberships[0];
  return {
    birthDate: person.birthDate && dayOfDate(person.birthDate),
    isPlayer: person.memberships.some(({ role }) => role === 'player'),
    timeZone: person.timeZone ?? place?.program.timeZone ?? 'UTC',
  };
}

/** Puts a mail off without counting it as a failure: the quiet hours of its reader have begun. */
export async function holdMail(_system: System, tx: Tx, id: string, until: Date): Promise<void> {
  await db(tx).outboxMail.update({ where: { id }, data: { notBefore: until } });
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
