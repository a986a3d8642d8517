import { findInvitation } from '@/lib/data/invitations.system';
import { invitationState } from '@/lib/domain/people/invitation';
import type { Role, System } from '@/lib/domain/people/viewer';
import type { PersonId } from '@/lib/domain/shared/ids';
import type { Ports } from './ports';

/** What the page of an invitation shows to whoever holds its link. */
export interface OpenInvitation {
  programName: string;
  inviterName: string;
  role: Role;
  name: string;
  email: string;
  playerName: string | null;
  /** The child whom a guardian adds once they are in. */
  childName: string | null;
  /** The person who already has the address and so signs in to accept; null for somebody new. */
  accountId: PersonId | null;
  /** True when a player is invited whose birth date nobody knows yet. */
  needsBirthDate: boolean;
}

/** The open invitation behind a link; null when it was never given out, used, withdrawn or expired: all look the same. */
export async function openInvitation(
  { clock }: Pick<Ports, 'clock'>,
  system: System,
  token: string,
): Promise<OpenInvitation | null> {
  const invitation = await findInvitation(system, token);
  if (!invitation || invitationState(invitation, clock.now()) !== 'open') return null;
  return {
    programName: invitation.programName,
    inviterName: invitation.inviterName,
    role: invitation.role,
    name: invitation.name,
    email: invitation.email,
    playerName: invitation.player?.name ?? null,
    childName: invitation.childName,
    accountId: invitation.account?.personId ?? null,
    needsBirthDate: invitation.role === 'player' && !invitation.account?.birthDate && !invitation.birthDate,
  };
}
