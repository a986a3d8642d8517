import { v5 as uuidFrom } from 'uuid';
import { invitationEnds, invitationMail } from './invitation-mail';
import { writeAudit } from '@/lib/data/audit.write';
import { listKnownInvitations } from '@/lib/data/invitation-table.read';
import { createInvitation, lockInvitations } from '@/lib/data/invitations.write';
import { queueMail } from '@/lib/data/outbox.write';
import { readAccount } from '@/lib/data/people.read';
import { transaction, type Tx } from '@/lib/data/transaction';
import type { JudgedRow, RowInvitation } from '@/lib/domain/people/invitation-rows';
import { isLead, type Viewer } from '@/lib/domain/people/viewer';
import { notFound } from '@/lib/domain/shared/errors';
import type { InvitationId } from '@/lib/domain/shared/ids';
import { lookAtTable, type LookedAt } from './look-at-table';
import type { Ports } from './ports';

const WHILE_MS = 60_000;
const DONE_WORDS = 'Invited. The link works once, for two weeks.';

/** The same row of the same batch has the same id, so that sending twice invites once. */
const idOf = (batchId: string, { written }: JudgedRow): InvitationId => {
  const { row, role, email, childName } = written;
  return uuidFrom([row, role, email, childName].join('\n'), batchId) as InvitationId;
};

/**
 * Invites everybody of a table who can be, in one transaction, and says of each row what became of it. `batchId` is
 * minted by the form: sending the same again invites nobody twice. For leads.
 */
export async function inviteTable(
  ports: Pick<Ports, 'clock' | 'ids' | 'queue'>,
  viewer: Viewer,
  { batchId, text }: { batchId: string; text: string },
): Promise<LookedAt> {
  if (!isLead(viewer)) throw notFound('page');
  const inviter = await readAccount(viewer);
  return transaction(
    viewer,
    async (tx) => {
      await lockInvitations(viewer, tx);
      const looked = await lookAtTable(ports, viewer, text, tx);
      const known = await listKnownInvitations(
        viewer,
        looked.rows.map((row) => idOf(batchId, row)),
        tx,
      );
      const rows: JudgedRow[] = [];
      for (const row of looked.rows) {
        const id = idOf(batchId, row);
        if (!known.has(id) && row.invitation) await invite(tx, id, row.invitation);
        rows.push(
          known.has(id) || row.invitation
            ? { ...row, outcome: 'invited', words: DONE_WORDS, invitation: null }
            : row,
        );
      }
      const invited = looked.rows.filter((row) => row.invitation && !known.has(idOf(batchId, row))).length;
      if (invited > 0) {
        await writeAudit(viewer, tx, {
          action: 'invitations.sent',
          subject: `program:${viewer.programId}`,
          data: { batchId, rows: rows.length, invited },
        });
        await ports.queue.drainOutbox(tx);
      }
      return { ...looked, rows };
    },
    WHILE_MS,
  );

  async function invite(tx: Tx, id: InvitationId, one: RowInvitation): Promise<void> {
    const { childName, childBirthDate, guardianName, guardianEmail, playerId, ...person } = one;
    const now = ports.clock.now();
    const token = ports.ids.token();
    const input = { ...person, ...(playerId ? { playerId } : {}) };
    await createInvitation(
      viewer,
      tx,
      { ...input, id, token, expiresAt: invitationEnds(now), at: now },
      { childName, childBirthDate, guardianName, guardianEmail },
    );
    const facts = { token, role: one.role, programName: inviter.program.name, inviter: inviter.name };
    await queueMail(viewer, tx, invitationMail(one.email, facts, now));
    await writeAudit(viewer, tx, {
      action: 'invitation.sent',
      subject: `invitation:${id}`,
      data: { role: one.role, playerId, batchId },
    });
  }
}
