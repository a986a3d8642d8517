'use server';

import * as z from 'zod';
import { formAction } from '@/app/_server/action';
import { ports } from '@/app/_server/ports';
import { holdReasonSchema } from '@/lib/domain/privacy/hold';
import { anId, type PersonId } from '@/lib/domain/shared/ids';
import { askErasure } from '@/lib/workflows/ask-erasure';
import { askForCopy } from '@/lib/workflows/ask-for-copy';
import { cancelErasure } from '@/lib/workflows/cancel-erasure';
import { endHold } from '@/lib/workflows/end-hold';
import { placeHold } from '@/lib/workflows/place-hold';

const fresh = z.object({ id: z.uuid(), personId: anId<PersonId>() });

/** Asks for a file with everything about a person. */
export const askCopy = formAction('account.change', fresh, (viewer, request) =>
  askForCopy({ clock: ports.clock, queue: ports.queue }, viewer, request),
);

/** Asks that everything about a person is erased. */
export const askErase = formAction(
  'account.change',
  fresh.extend({ isSure: z.literal('yes', 'Tick that you have read this.') }),
  (viewer, { id, personId }) =>
    askErasure({ clock: ports.clock, queue: ports.queue }, viewer, { id, personId }),
);

/** Takes an erasure back. */
export const takeBackErase = formAction(
  'account.change',
  z.object({ id: z.uuid() }),
  async (viewer, { id }) => {
    await cancelErasure({ clock: ports.clock, queue: ports.queue }, viewer, id);
    return { isDone: true };
  },
);

/** A lead places a legal hold on a player. */
export const hold = formAction(
  'people.change',
  fresh.extend({ reason: holdReasonSchema }),
  async (viewer, { id, personId, reason }) => {
    await placeHold({ clock: ports.clock }, viewer, { id, playerId: personId, reason });
    return { isDone: true };
  },
);

/** A lead ends a legal hold. */
export const endOfHold = formAction('people.change', z.object({ id: z.uuid() }), async (viewer, { id }) => {
  await endHold({ clock: ports.clock }, viewer, id);
  return { isDone: true };
});
