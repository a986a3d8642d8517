'use server';

import * as z from 'zod';
import { formAction } from '@/app/_server/action';
import { ports } from '@/app/_server/ports';
import { SCOPES } from '@/lib/domain/consents/consent';
import { anId, type PersonId } from '@/lib/domain/shared/ids';
import { changeConsent } from '@/lib/workflows/change-consent';

/** Gives one consent about a player, or takes it back. */
export const setConsent = formAction(
  'people.change',
  z.object({ playerId: anId<PersonId>(), scope: z.enum(SCOPES), isGiven: z.enum(['yes', 'no']) }),
  async (viewer, { isGiven, ...which }) => {
    await changeConsent({ clock: ports.clock }, viewer, { ...which, isGiven: isGiven === 'yes' });
    return { isDone: true };
  },
);
