import { writeAudit } from '@/lib/data/audit.write';
import { forgetExpectedChild } from '@/lib/data/invitations.write';
import { transaction } from '@/lib/data/transaction';
import type { Viewer } from '@/lib/domain/people/viewer';
import type { InvitationId } from '@/lib/domain/shared/ids';

/** A guardian says that the child whom the program named is none of theirs, or is here already: the name is forgotten. */
export async function declineChild(
  viewer: Viewer,
  { invitationId }: { invitationId: InvitationId },
): Promise<void> {
  await transaction(viewer, async (tx) => {
    await forgetExpectedChild(viewer, tx, invitationId);
    await writeAudit(viewer, tx, { action: 'child.declined', subject: `invitation:${invitationId}` });
  });
}
