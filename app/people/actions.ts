'use server';

import * as z from 'zod';
import { daySchema } from '@/lib/domain/people/age';
import { CLEARANCE_KINDS } from '@/lib/domain/people/clearances';
import { invitationInputSchema } from '@/lib/domain/people/invitation';
import { anId, type InvitationId, type PersonId } from '@/lib/domain/shared/ids';
import { changeStaffRole } from '@/lib/workflows/change-staff-role';
import { confirmGuardian } from '@/lib/workflows/confirm-guardian';
import { invitePerson } from '@/lib/workflows/invite-person';
import { recordClearance } from '@/lib/workflows/record-clearance';
import { revokeClearance } from '@/lib/workflows/revoke-clearance';
import { withdrawInvitation } from '@/lib/workflows/withdraw-invitation';
import { formAction } from '../_server/action';
import { ports } from '../_server/ports';

/** Sends an invitation by mail. */
export const invite = formAction('people.invite', invitationInputSchema, async (viewer, input) => {
  await invitePerson({ clock: ports.clock, ids: ports.ids, queue: ports.queue }, viewer, input);
  return { isSent: true };
});

/** Takes an open invitation back. */
export const withdraw = formAction(
  'people.change',
  z.object({ invitationId: anId<InvitationId>() }),
  async (viewer, input) => {
    await withdrawInvitation({ clock: ports.clock }, viewer, input);
    return { isDone: true };
  },
);

/** Confirms a guardian whom a minor named. */
export const confirm = formAction(
  'people.change',
  z.object({ guardianId: anId<PersonId>(), playerId: anId<PersonId>() }),
  async (viewer, pair) => {
    await confirmGuardian({ clock: ports.clock }, viewer, pair);
    return { isDone: true };
  },
);

/** Records a check or a training of somebody of the staff. */
export const addClearance = formAction(
  'people.change',
  z.object({
    id: z.uuid(),
    personId: anId<PersonId>(),
    kind: z.enum(CLEARANCE_KINDS),
    issuedOn: daySchema,
    expiresOn: daySchema,
  }),
  async (viewer, one) => {
    await recordClearance(viewer, one);
    return { isDone: true };
  },
);

/** Ends a check or a training before its day. */
export const endClearance = formAction(
  'people.change',
  z.object({ personId: anId<PersonId>(), kind: z.enum(CLEARANCE_KINDS) }),
  async (viewer, which) => {
    await revokeClearance({ clock: ports.clock }, viewer, which);
    return { isDone: true };
  },
);

/** Gives or takes a staff role. */
export const setRole = formAction(
  'people.change',
  z.object({ personId: anId<PersonId>(), role: z.enum(['coach', 'lead']), isOn: z.enum(['yes', 'no']) }),
  async (viewer, { isOn, ...change }) => {
    await changeStaffRole(viewer, { ...change, isOn: isOn === 'yes' });
    return { isDone: true };
  },
);
