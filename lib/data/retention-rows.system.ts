import { subDays } from 'date-fns';
import { documentFactsSchema } from '@/lib/domain/billing/documents';
import { formerPayer } from '@/lib/domain/privacy/erasure';
import { documentFolder, personalFolder } from '@/lib/domain/privacy/files';
import { FIXED_DEADLINES, type Counts, type RetentionClass } from '@/lib/domain/privacy/retention';
import { SHOWN_ACTION } from '@/lib/domain/people/shown';
import type { System } from '@/lib/domain/people/viewer';
import { db, type Tx } from './client';
import type { Due, MediaClass } from './retention-media.system';
import { allowBlanking, heldPlayers, letFilesGo, lockDeletion } from './strip-media';

export type RowClass = Exclude<RetentionClass, MediaClass>;
type Clear = (tx: Tx, due: Due, held: string[]) => Promise<number>;

const idsOf = (rows: readonly { id: string }[]) => ({ id: { in: rows.map((row) => row.id) } });
const ids = { id: true } as const;

const CLEAR: Readonly<Record<RowClass, Clear>> = {
  async practice(tx, { programId, before, take }, held) {
    const rows = await db(tx).checkIn.findMany({
      where: { at: { lt: before }, assignment: { programId, playerId: { notIn: held } } },
      select: ids,
      take,
    });
    return (await db(tx).checkIn.deleteMany({ where: idsOf(rows) })).count;
  },

  async watching(tx, { programId, before }, held) {
    const lesson = { programId, thread: { playerId: { notIn: held } } };
    const opened = await db(tx).lessonView.deleteMany({ where: { lastSeenAt: { lt: before }, lesson } });
    const watched = await db(tx).breakdownView.deleteMany({
      where: { updatedAt: { lt: before }, breakdown: { lesson } },
    });
    return opened.count + watched.count;
  },

  async notices(tx, { programId, before, take }, held) {
    const rows = await db(tx).notice.findMany({
      where: {
        ...{ programId, shownFrom: { lt: before } },
        OR: [{ playerId: null }, { playerId: { notIn: held } }],
      },
      select: ids,
      take,
    });
    return (await db(tx).notice.deleteMany({ where: idsOf(rows) })).count;
  },

  async invitations(tx, { programId, before, take }) {
    const rows = await db(tx).invitation.findMany({
      where: { programId, expiresAt: { lt: before } },
      select: ids,
      take,
    });
    return (await db(tx).invitation.deleteMany({ where: idsOf(rows) })).count;
  },

  async shown(tx, { programId, before, take }, held) {
    await allowBlanking(tx);
    const rows = await db(tx).auditEntry.findMany({
      where: {
        ...{ programId, action: SHOWN_ACTION, at: { lt: before } },
        subject: { notIn: held.map((id) => `person:${id}`) },
      },
      select: ids,
      take,
    });
    return (await db(tx).auditEntry.deleteMany({ where: idsOf(rows) })).count;
  },

  async safeguarding(tx, { programId, before }, held) {
    await allowBlanking(tx);
    const threads = await db(tx).thread.findMany({
      where: { programId, playerId: { in: held } },
      select: ids,
    });
    const concerns = await db(tx).concern.deleteMany({
      where: {
        ...{ programId, closedAt: { lt: before } },
        OR: [{ threadId: null }, { threadId: { notIn: threads.map((one) => one.id) } }],
      },
    });
    const consents = await db(tx).consent.deleteMany({
      where: {
        ...{ programId, playerId: { notIn: held } },
        OR: [{ withdrawnAt: { lt: before } }, { expiresAt: { lt: before } }],
      },
    });
    // A hold is on a player; who coached in its time has to stay checkable too.
    const clearances =
      held.length > 0
        ? { count: 0 }
        : await db(tx).clearance.deleteMany({
            where: { programId, OR: [{ revokedAt: { lt: before } }, { expiresOn: { lt: before } }] },
          });
    return concerns.count + consents.count + clearances.count;
  },

  async money(tx, { programId, before, now, take }, held) {
    await allowBlanking(tx);
    const beside = await db(tx).guardianship.findMany({
      where: { playerId: { in: held } },
      select: { guardianId: true },
    });
    const payerId = { notIn: [...held, ...beside.map((one) => one.guardianId)] };
    const documents = await db(tx).billingDocument.findMany({
      where: {
        ...{ programId, at: { lt: before }, payerId },
        NOT: { facts: { path: ['payerName'], string_starts_with: formerPayer(null) } },
      },
      select: { id: true, facts: true },
      take,
    });
    for (const { id, facts } of documents) {
      const renamed = { ...documentFactsSchema.parse(facts), payerName: formerPayer(null) };
      await db(tx).billingDocument.update({ where: { id }, data: { facts: renamed } });
    }
    await letFilesGo(
      tx,
      documents.map((one) => documentFolder(one.id)),
      now,
    );
    const reasons = await db(tx).ledgerEntry.updateMany({
      where: { programId, at: { lt: before }, payerId, reason: { not: '' } },
      data: { reason: '' },
    });
    return documents.length + reasons.count;
  },
};

/**
 * Deletes or empties what is due of one class of rows. Nothing of a player on whom a legal hold stands. Answers how many
 * there were: call it again until it answers none.
 */
export async function clearRows(_system: System, tx: Tx, which: RowClass, due: Due): Promise<number> {
  await lockDeletion(tx, due.programId);
  return CLEAR[which](tx, due, await heldPlayers(tx, due.programId));
}

/** Deletes what is due everywhere, whatever the program: sent mails, sign-in traces, copies of everything. */
export async function clearEverywhere(_system: System, tx: Tx, now: Date): Promise<Counts> {
  const before = (name: keyof typeof FIXED_DEADLINES) => subDays(now, FIXED_DEADLINES[name].days);
  const signIn = before('sign-in');
  const mails = await db(tx).outboxMail.deleteMany({ where: { sentAt: { lt: before('mails-sent') } } });
  const links = await db(tx).verificationToken.deleteMany({ where: { expires: { lt: signIn } } });
  const sessions = await db(tx).endedSession.deleteMany({ where: { expires: { lt: signIn } } });
  const tries = await db(tx).rateLimit.deleteMany({ where: { expire: { lt: signIn } } });
  const copies = await db(tx).personalExport.findMany({
    where: {
      OR: [{ expiresAt: { lt: now } }, { state: 'failed', at: { lt: signIn } }],
      state: { not: 'expired' },
    },
    select: ids,
  });
  await db(tx).personalExport.updateMany({ where: idsOf(copies), data: { state: 'expired', parts: 0 } });
  await letFilesGo(
    tx,
    copies.map((one) => personalFolder(one.id)),
    now,
  );
  return {
    'mails-sent': mails.count,
    'sign-in': links.count + sessions.count + tries.count,
    'everything-files': copies.length,
  };
}
