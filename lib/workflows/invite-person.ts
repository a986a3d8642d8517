import { invitationEnds, invitationMail } from './invitation-mail';
import { writeAudit } from '@/lib/data/audit.write';
import { createInvitation } from '@/lib/data/invitations.write';
import { queueMail } from '@/lib/data/outbox.write';
import { readAccount, readPlayer } from '@/lib/data/people.read';
import { transaction } from '@/lib/data/transaction';
import type { InvitationInput } from '@/lib/domain/people/invitation';
import type { Viewer } from '@/lib/domain/people/viewer';
import { CagepostError, notFound } from '@/lib/domain/shared/errors';
import type { InvitationId } from '@/lib/domain/shared/ids';
import type { Ports } from './ports';

/**
 * Invites somebody by a single-use link in a mail. The answer never tells whether the address has an account. Inviting
 * the same address to the same place again replaces the earlier link.
 */
export async function invitePerson(
  { clock, ids, queue }: Pick<Ports, 'clock' | 'ids' | 'queue'>,
  viewer: Viewer,
  input: InvitationInput,
): Promise<{ invitationId: InvitationId }> {
  const now = clock.now();
  const invitationId = ids.uuid() as InvitationId;
  const token = ids.token();
  const inviter = await readAccount(viewer);
  return transaction(viewer, async (tx) => {
    if (input.playerId) {
      const player = await readPlayer(viewer, input.playerId, tx);
      if (!player) throw notFound('player');
      if (player.email === input.email) {
        throw new CagepostError(
          'invalid',
          'That is the player’s own address. Write the parent’s or guardian’s. Nothing was sent.',
        );
      }
    }
    const expiresAt = invitationEnds(now);
    await createInvitation(viewer, tx, { ...input, id: invitationId, token, expiresAt, at: now });
    const facts = { token, role: input.role, programName: inviter.program.name, inviter: inviter.name };
    await queueMail(viewer, tx, invitationMail(input.email, facts, now));
    await writeAudit(viewer, tx, {
      action: 'invitation.sent',
      subject: `invitation:${invitationId}`,
      data: { role: input.role, playerId: input.playerId ?? null },
    });
    await queue.drainOutbox(tx);
    return { invitationId };
  });
}
