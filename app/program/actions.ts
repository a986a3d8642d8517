'use server';

import { revalidatePath } from 'next/cache';
import * as z from 'zod';
import { callAction } from '@/app/_server/call';
import { ports } from '@/app/_server/ports';
import { setProgramZone } from '@/lib/workflows/set-program-zone';
import { MOST_PROMISE_HOURS, updateProgram } from '@/lib/workflows/update-program';

export const updateProgramAction = callAction(
  'people.change',
  z.object({
    name: z.string().trim().min(1, 'Give the program a name.').max(80),
    promiseHours: z
      .int('Whole hours.')
      .min(1, 'At least one hour.')
      .max(MOST_PROMISE_HOURS, 'At most two weeks.'),
    howToPay: z.string().trim().max(400),
    priceLabel: z.string().trim().min(1, 'Give the price a name.').max(60),
    amountMinor: z.int().min(0),
  }),
  async (viewer, input) => {
    await updateProgram(ports, viewer, input);
    revalidatePath('/program');
  },
);

export const setProgramZoneAction = callAction(
  'people.change',
  z.object({ timeZone: z.string().max(64) }),
  async (viewer, input) => {
    await setProgramZone(viewer, input);
    revalidatePath('/program');
  },
);
