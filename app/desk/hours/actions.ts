'use server';

import { revalidatePath } from 'next/cache';
import * as z from 'zod';
import { callAction } from '@/app/_server/call';
import { ports } from '@/app/_server/ports';
import { ownHoursSchema } from '@/lib/domain/desk/hours';
import { setOwnHours } from '@/lib/workflows/set-own-hours';

export const setOwnHoursAction = callAction(
  'people.change',
  z.object({
    hours: ownHoursSchema.nullable(),
    promiseHours: z
      .int('Write your promise in whole hours.')
      .min(1, 'Promise at least one hour.')
      .max(336)
      .nullable(),
  }),
  async (viewer, terms) => {
    await setOwnHours(ports, viewer, terms);
    revalidatePath('/desk');
  },
);
