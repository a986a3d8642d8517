import * as z from 'zod';
import { anId, type PersonId } from '../shared/ids';
import type { Role, Viewer } from './viewer';

/** How long an invitation link stays good. */
export const INVITATION_DAYS = 14;

/** Roles that somebody can be invited to. A lead is made from a coach, never by a link. */
export const INVITED_ROLES = ['player', 'guardian', 'coach'] as const satisfies readonly Role[];
export type InvitedRole = (typeof INVITED_ROLES)[number];

/** An address as the program keeps it: NFKC, trimmed, lower case. */
export const emailSchema = z
  .string()
  .transform((text) => text.normalize('NFKC').trim().toLowerCase())
  .pipe(z.email('That does not look like an e-mail address.').max(254));

/** A person's name as others will read it. */
export const nameSchema = z
  .string()
  .trim()
  .min(1, 'Write a name.')
  .max(80, 'Keep the name under 80 letters.');

export const invitationInputSchema = z
  .object({
    role: z.enum(INVITED_ROLES),
    name: nameSchema,
    email: emailSchema,
    playerId: anId<PersonId>().optional(),
  })
  .refine((input) => input.role === 'guardian' || input.playerId === undefined, {
    path: ['playerId'],
    error: 'Only a guardian is invited for a player.',
  });
export type InvitationInput = z.infer<typeof invitationInputSchema>;

export type InvitationState = 'open' | 'used' | 'withdrawn' | 'expired';

/** Where an invitation stands at `now`. Used wins over withdrawn, withdrawn over expired. */
export const invitationState = (
  facts: { usedAt: Date | null; withdrawnAt: Date | null; expiresAt: Date },
  now: Date,
): InvitationState => {
  if (facts.usedAt) return 'used';
  if (facts.withdrawnAt) return 'withdrawn';
  return facts.expiresAt <= now ? 'expired' : 'open';
};

/**
 * Whether the viewer may send this invitation: leads every one, coaches players and guardians, and a player a
 * guardian for themselves. Guardians add their children instead of inviting them.
 */
export const mayInvite = (viewer: Viewer, input: Pick<InvitationInput, 'role' | 'playerId'>): boolean => {
  if (viewer.roles.includes('lead')) return true;
  if (viewer.roles.includes('coach')) return input.role !== 'coach';
  return viewer.roles.includes('player') && input.role === 'guardian' && input.playerId === viewer.personId;
};
