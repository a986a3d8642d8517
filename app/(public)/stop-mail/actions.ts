'use server';

import * as z from 'zod';
import { publicAction } from '../../_server/action';
import { stopByToken } from '../../_server/stop-mail';

/** Ends the kind of mail that the address names. */
export const stopMails = publicAction(
  'notices.stop',
  z.object({ token: z.string().max(300) }),
  async ({ token }) => {
    await stopByToken(token);
    return { isStopped: true };
  },
);
