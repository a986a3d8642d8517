import { spend } from '@/lib/data/rate-limit';
import { findLogin, keepSignInLink } from '@/lib/data/sign-in.system';
import { composeSignInMail } from '@/lib/documents/emails/sign-in';
import type { System } from '@/lib/domain/people/viewer';
import type { Mailer, Ports } from './ports';

/** How long a sign-in link stays good. */
export const LINK_MINUTES = 15;

/**
 * Mails a sign-in link to the address (lower case) if somebody has it, at once and not by the outbox: they are waiting.
 * Does nothing for an unknown address. Its outcome and the time it takes must not reach whoever asked: run it after
 * the answer has been sent. Throws `too-many` by account, known or not.
 */
export async function requestSignInLink(
  { clock, ids, mailer, log }: Pick<Ports, 'clock' | 'ids' | 'log'> & { mailer: Mailer },
  system: System,
  { email, origin }: { email: string; origin: string },
): Promise<void> {
  await spend('auth.link.account', email);
  const login = await findLogin(system, email);
  if (!login) return;
  const now = clock.now();
  const token = ids.token();
  const expires = new Date(now.getTime() + LINK_MINUTES * 60_000);
  await keepSignInLink(system, { personId: login.personId, token, expires }, now);
  // Behind the #: it is not sent to any server with the request, so that it stands in no access log.
  const url = `${origin}/sign-in/link#${token}`;
  await mailer.send({
    to: email,
    ...(await composeSignInMail({ url, minutes: LINK_MINUTES })),
    messageId: `<sign-in.${ids.uuid()}@cagepost>`,
  });
  log.info({ personId: login.personId }, 'sign-in link sent');
}
