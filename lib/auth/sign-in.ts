import { findDemoLogin, findLogin, takeSignInLink, type LoginFacts } from '@/lib/data/sign-in.system';
import { forgive, spend } from '@/lib/data/rate-limit';
import { emailSchema } from '@/lib/domain/people/invitation';
import { PASSWORD_MAX } from '@/lib/domain/people/password';
import { anId, type PersonId } from '@/lib/domain/shared/ids';
import { passwords } from './passwords';
import { asSystem } from './system';

const system = asSystem('sign-in');

/**
 * The login that an address and a password open, or null. An unknown address, one without a password and a wrong
 * password look alike and take alike. Throws `too-many` by network address and by account, known or not.
 */
export async function signInByPassword(
  given: { email: string; password: string },
  ip: string,
): Promise<LoginFacts | null> {
  const email = emailSchema.safeParse(given.email);
  const account = email.success ? email.data : given.email.slice(0, 254);
  await spend('auth.password.ip', ip);
  await spend('auth.password.account', account);
  const login = email.success ? await findLogin(system, email.data) : null;
  // Longer than any password that can be set: hashing it would only be work for us.
  const password = given.password.slice(0, PASSWORD_MAX + 1);
  const isRight = await passwords.matches(login?.passwordHash ?? null, password);
  if (!isRight) return null;
  await forgive('auth.password.account', account);
  return login;
}

/** The login that a link's token opens, once; or null. Throws `too-many` by network address. */
export async function signInByLink(token: string, ip: string): Promise<LoginFacts | null> {
  await spend('auth.link.open', ip);
  return token.length > 200 ? null : takeSignInLink(system, token, new Date());
}

/** The login of a demo person; null for everybody who is not one. Only ever asked for where the demo door is open. */
export async function signInByDemoDoor(personId: string, ip: string): Promise<LoginFacts | null> {
  await spend('auth.demo', ip);
  const id = anId<PersonId>().safeParse(personId);
  return id.success ? findDemoLogin(system, id.data) : null;
}
