'use server';

import * as z from 'zod';
import { closeCalendar } from '@/lib/workflows/close-calendar';
import { openCalendar } from '@/lib/workflows/open-calendar';
import { formAction } from '../_server/action';
import { siteOrigin } from '../_server/mailer';
import { ports } from '../_server/ports';

/** Makes the secret address of one's calendar, or replaces it. */
export const makeCalendar = formAction('account.change', z.object({}), async (viewer) => {
  const { secret } = await openCalendar(ports, viewer);
  return { address: `${siteOrigin()}/api/calendar/${secret}.ics` };
});

/** Ends the secret address of one's calendar. */
export const endCalendar = formAction('account.change', z.object({}), async (viewer) => {
  await closeCalendar(viewer);
  return { isDone: true };
});
