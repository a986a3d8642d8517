'use server';

import { revalidatePath } from 'next/cache';
import { callAction } from '@/app/_server/call';
import { ports } from '@/app/_server/ports';
import { hoursSchema } from '@/lib/domain/desk/hours';
import { setHours } from '@/lib/workflows/set-hours';

export const setHoursAction = callAction('people.change', hoursSchema.nullable(), async (viewer, hours) => {
  await setHours(ports, viewer, hours);
  revalidatePath('/program');
});
