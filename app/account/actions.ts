'use server';

import * as z from 'zod';
import { FRESH_LINK } from '@/lib/auth/session';
import { passwords } from '@/lib/auth/passwords';
import { asSystem } from '@/lib/auth/system';
import { daySchema } from '@/lib/domain/people/age';
import { HANDS } from '@/lib/domain/lessons/state';
import { emailSchema, nameSchema } from '@/lib/domain/people/invitation';
import { newPasswordSchema } from '@/lib/domain/people/password';
import { CagepostError, notFound } from '@/lib/domain/shared/errors';
import { anId, type InvitationId, type PersonId, type ProgramId } from '@/lib/domain/shared/ids';
import { addChild } from '@/lib/workflows/add-child';
import { changePassword } from '@/lib/workflows/change-password';
import { declineChild } from '@/lib/workflows/decline-child';
import { endSessions } from '@/lib/workflows/end-sessions';
import { invitePerson } from '@/lib/workflows/invite-person';
import { pauseContact } from '@/lib/workflows/pause-contact';
import { formAction } from '../_server/action';
import { ports } from '../_server/ports';
import { keepSession } from '../_server/session';
import { getSession } from '../_server/viewer';

const liveClaims = async () => {
  const session = await getSession();
  if (session) return session;
  throw new CagepostError('not-signed-in', 'You are not signed in any more. Sign in again.');
};

/** Sets a new password; this device stays signed in, every other one is signed out. */
export const changeMyPassword = formAction(
  'account.password',
  z.object({ oldPassword: z.string().max(200).default(''), newPassword: newPasswordSchema }),
  async (viewer, { oldPassword, newPassword }) => {
    const { claims } = await liveClaims();
    const isFreshFromLink = claims.how === 'link' && claims.since + FRESH_LINK > Date.now() / 1000;
    const given = { oldPassword, newPassword, isFreshFromLink };
    const { sessionVersion } = await changePassword({ passwords }, viewer, asSystem('sign-in'), given);
    await keepSession({ ...claims, ver: sessionVersion, how: 'password' });
    return { isChanged: true };
  },
);

/** Signs out every device; this one stays. */
export const signOutElsewhere = formAction('account.change', z.object({}), async (viewer) => {
  const { claims } = await liveClaims();
  const { sessionVersion } = await endSessions(viewer, asSystem('sign-in'));
  await keepSession({ ...claims, ver: sessionVersion });
  return { isDone: true };
});

/** Turns to another program of the same person. */
export const switchProgram = formAction(
  'account.change',
  z.object({ programId: anId<ProgramId>() }),
  async (_viewer, { programId }) => {
    const { claims, programs } = await liveClaims();
    if (!programs.some((program) => program.programId === programId)) throw notFound('program');
    await keepSession({ ...claims, prog: programId });
    return { isDone: true };
  },
);

/** Adds a child whose profile this guardian holds. */
export const addMyChild = formAction(
  'people.change',
  z.object({
    id: anId<PersonId>(),
    name: nameSchema,
    birthDate: daySchema,
    bats: z.enum(HANDS).optional(),
    consent: z.literal('yes').optional(),
    invitationId: anId<InvitationId>().optional(),
  }),
  (viewer, { consent, bats = null, ...child }) =>
    addChild({ clock: ports.clock }, viewer, { ...child, bats, hasConsented: consent === 'yes' }),
);

/** Says that a child whom the program named is none of this guardian's. */
export const declineMyChild = formAction(
  'people.change',
  z.object({ invitationId: anId<InvitationId>() }),
  async (viewer, input) => {
    await declineChild(viewer, input);
    return { isDone: true };
  },
);

/** Stops, or allows again, that staff write to a child. */
export const setPause = formAction(
  'people.change',
  z.object({ playerId: anId<PersonId>(), isPaused: z.enum(['yes', 'no']) }),
  async (viewer, { playerId, isPaused }) => {
    await pauseContact(ports, viewer, { playerId, isPaused: isPaused === 'yes' });
    return { isPaused: isPaused === 'yes' };
  },
);

/** A minor names their parent or guardian. */
export const nameMyGuardian = formAction(
  'people.invite',
  z.object({ name: nameSchema, email: emailSchema }),
  async (viewer, { name, email }) => {
    const invitation = { role: 'guardian', name, email, playerId: viewer.personId } as const;
    await invitePerson({ clock: ports.clock, ids: ports.ids, queue: ports.queue }, viewer, invitation);
    return { isSent: true };
  },
);
