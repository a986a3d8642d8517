import type { queueMail } from '@/lib/data/outbox.write';
import { INVITATION_DAYS } from '@/lib/domain/people/invitation';
import type { Role } from '@/lib/domain/people/viewer';

const DAY = 24 * 3_600_000;

type Mail = Parameters<typeof queueMail>[2];

/** Until when an invitation that is made now can be used. */
export const invitationEnds = (now: Date): Date => new Date(now.getTime() + INVITATION_DAYS * DAY);

/** The mail with the single-use link of an invitation. */
export const invitationMail = (
  to: string,
  { token, role, programName, inviter }: { token: string; role: Role; programName: string; inviter: string },
  now: Date,
): Mail => ({
  ...{ kind: 'invitation', to, notBefore: now },
  data: { programName, inviter, role, path: `/invite/${token}`, days: INVITATION_DAYS },
});
