import { cookies } from 'next/headers';
import { openSession, sealSession, SESSION, sessionCookie, type Claims } from '@/lib/auth/session';
import { authSettings } from '@/lib/auth/settings';
import { liveSession, type LiveSession } from '@/lib/auth/viewer';

/** Anything that carries a request's cookies: what `cookies()` gives, or those of a `pages/api` request. */
type CookieJar = { get(name: string): { value: string } | undefined } | Partial<Record<string, string>>;

const textIn = (jar: CookieJar, name: string): string | undefined =>
  typeof jar.get === 'function' ? jar.get(name)?.value : (jar as Partial<Record<string, string>>)[name];

/** The session that the cookies open, checked against the database; null without one that is alive. */
export async function sessionIn(jar: CookieJar): Promise<LiveSession | null> {
  const { secret, isSecure } = authSettings();
  const now = new Date();
  const claims = await openSession(textIn(jar, sessionCookie(isSecure).name), secret, now);
  return claims && liveSession(claims, now);
}

/** Puts changed claims into the session cookie. For server actions and route handlers: a page cannot set cookies. */
export async function keepSession(claims: Claims): Promise<void> {
  const { secret, isSecure } = authSettings();
  const { name, options } = sessionCookie(isSecure);
  const dies = (claims.since + SESSION.longest) * 1000;
  const expires = new Date(Math.min(Date.now() + SESSION.idle * 1000, dies));
  (await cookies()).set(name, await sealSession(claims, secret), { ...options, expires });
}
