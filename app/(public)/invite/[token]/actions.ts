'use server';

import * as z from 'zod';
import { passwords } from '@/lib/auth/passwords';
import { asSystem } from '@/lib/auth/system';
import { daySchema } from '@/lib/domain/people/age';
import { nameSchema } from '@/lib/domain/people/invitation';
import { newPasswordSchema } from '@/lib/domain/people/password';
import { CagepostError } from '@/lib/domain/shared/errors';
import { acceptInvitation } from '@/lib/workflows/accept-invitation';
import { publicAction } from '../../../_server/action';
import { ports } from '../../../_server/ports';
import { keepSession } from '../../../_server/session';
import { getSession } from '../../../_server/viewer';

const answers = {
  token: z.string().min(1).max(200),
  birthDate: daySchema.optional(),
  consent: z.literal('yes').optional(),
};

/** Makes an account out of an invitation. The page then signs in with what was just written. */
export const acceptAsNew = publicAction(
  'invite.accept',
  z.object({ ...answers, name: nameSchema, password: newPasswordSchema }),
  async ({ token, name, password, birthDate, consent }) => {
    const hasConsented = consent === 'yes';
    const who = { kind: 'new', name, password, birthDate: birthDate ?? null, hasConsented } as const;
    await acceptInvitation({ ...ports, passwords }, asSystem('sign-in'), {
      token,
      who,
    });
    return { isAccepted: true };
  },
);

/** Adds a program to the account that is signed in, and turns to it. */
export const acceptAsKnown = publicAction(
  'invite.accept',
  z.object(answers),
  async ({ token, birthDate, consent }) => {
    const session = await getSession();
    if (!session) throw new CagepostError('not-signed-in', 'You are not signed in any more. Sign in again.');
    const who = {
      kind: 'known',
      personId: session.claims.sub,
      birthDate: birthDate ?? null,
      hasConsented: consent === 'yes',
    } as const;
    const { programId } = await acceptInvitation({ ...ports, passwords }, asSystem('sign-in'), {
      token,
      who,
    });
    await keepSession({ ...session.claims, prog: programId });
    return { isAccepted: true };
  },
);
