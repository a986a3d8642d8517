import { asSystem } from '@/lib/auth/system';
import { env } from '@/lib/platform/env';
import { readStopToken } from '@/lib/platform/stop-address';
import { notFound } from '@/lib/domain/shared/errors';
import { stopMail } from '@/lib/workflows/stop-mail';

/** Whom and what an address from a mail ends; null when we did not write it. */
export const stopTokenOf = (token: string) => readStopToken(env.NEXTAUTH_SECRET, token);

/** Ends the kind of mail that the token names. Refuses one that we did not write. */
export async function stopByToken(token: string): Promise<void> {
  const named = stopTokenOf(token);
  if (!named) throw notFound('mail');
  await stopMail(asSystem('sign-in'), named);
}
