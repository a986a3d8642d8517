'use server';

import { after } from 'next/server';
import * as z from 'zod';
import { asSystem } from '@/lib/auth/system';
import { CagepostError } from '@/lib/domain/shared/errors';
import { emailSchema } from '@/lib/domain/people/invitation';
import { requestSignInLink } from '@/lib/workflows/request-sign-in-link';
import { publicAction } from '../../_server/action';
import { mailer, siteOrigin } from '../../_server/mailer';
import { ports } from '../../_server/ports';

/** Asks for a sign-in link. The answer is the same, and as fast, whether anybody has the address or not. */
export const askForLink = publicAction(
  'auth.link.ip',
  z.object({ email: emailSchema }),
  async ({ email }) => {
    const work = async () => {
      try {
        await requestSignInLink(
          { clock: ports.clock, ids: ports.ids, log: ports.log, mailer },
          asSystem('sign-in'),
          { email, origin: siteOrigin() },
        );
      } catch (error) {
        if (error instanceof CagepostError)
          return ports.log.info({ fault: error.fault }, 'sign-in link refused');
        ports.log.error({ err: error }, 'sign-in link not sent');
      }
    };
    after(work);
    return { isAsked: true };
  },
);
