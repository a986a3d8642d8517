'use server';

import * as z from 'zod';
import { anId, type PersonId } from '@/lib/domain/shared/ids';
import { closeConcern } from '@/lib/workflows/close-concern';
import { raiseConcern } from '@/lib/workflows/raise-concern';
import { formAction } from '../_server/action';
import { ports } from '../_server/ports';

const wordsSchema = z
  .string('Write what happened.')
  .trim()
  .min(1, 'Write what happened.')
  .max(10_000, 'That is longer than 10,000 characters. Send the rest as a second one.');

/** Raises a concern, with or without a name. */
export const raise = formAction(
  'reply.write',
  z.object({
    id: z.uuid(),
    aboutId: anId<PersonId>().optional(),
    playerId: anId<PersonId>().optional(),
    body: wordsSchema,
    withoutName: z.literal('yes').optional(),
  }),
  (viewer, { id, aboutId = null, playerId = null, body, withoutName }) =>
    raiseConcern(ports, viewer, { id, aboutId, playerId, body, isNamed: withoutName !== 'yes' }),
);

/** Closes a concern with what came of it. */
export const close = formAction(
  'people.change',
  z.object({ id: z.uuid(), outcome: wordsSchema }),
  async (viewer, concern) => {
    await closeConcern({ clock: ports.clock }, viewer, concern);
    return { isDone: true };
  },
);
