'use server';

import * as z from 'zod';
import { formAction } from '@/app/_server/action';
import { ports } from '@/app/_server/ports';
import { SCOPES } from '@/lib/domain/consents/consent';
import { anId, type PersonId } from '@/lib/domain/shared/ids';
import { changeConsent } from '@/lib/workflows/change-consent';
import { setTimeZone } from '@/lib/workflows/set-time-zone';

/** Keeps the zone that a player lives in. */
export const setZone = formAction(
  'people.change',
  z.object({
    playerId: anId<PersonId>(),
    timeZone: z
      .string()
      .refine((zone) => Intl.supportedValuesOf('timeZone').includes(zone), 'Choose a zone from the list.')
      .optional(),
  }),
  async (viewer, { playerId, timeZone = null }) => {
    await setTimeZone(viewer, { playerId, timeZone });
    return { isDone: true };
  },
);

/** Gives one consent about a player, or takes it back. */
export const setConsent = formAction(
  'people.change',
  z.object({ playerId: anId<PersonId>(), scope: z.enum(SCOPES), isGiven: z.enum(['yes', 'no']) }),
  async (viewer, { isGiven, ...which }) => {
    await changeConsent({ clock: ports.clock }, viewer, { ...which, isGiven: isGiven === 'yes' });
    return { isDone: true };
  },
);
