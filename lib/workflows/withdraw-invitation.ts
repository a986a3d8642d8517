import { writeAudit } from '@/lib/data/audit.write';
import { withdrawInvitation as withdraw } from '@/lib/data/invitations.write';
import { transaction } from '@/lib/data/transaction';
import type { Viewer } from '@/lib/domain/people/viewer';
import type { InvitationId } from '@/lib/domain/shared/ids';
import type { Ports } from './ports';

/** Takes an open invitation back; its link opens nothing from now on. */
export async function withdrawInvitation(
  { clock }: Pick<Ports, 'clock'>,
  viewer: Viewer,
  { invitationId }: { invitationId: InvitationId },
): Promise<void> {
  await transaction(viewer, async (tx) => {
    await withdraw(viewer, tx, invitationId, clock.now());
    await writeAudit(viewer, tx, { action: 'invitation.withdrawn', subject: `invitation:${invitationId}` });
  });
}
