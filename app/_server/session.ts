import { cookies } from 'next/headers';
import { openSession, sealSession, SESSION, sessionCookie, type Claims } from '@/lib/auth/session';
import { authSettings } from '@/lib/auth/settings';
import { liveSession, type LiveSession } from '@/lib/auth/viewer';

/** The live session of this request, checked against the database; null without one. */
export async function sessionOfRequest(): Promise<LiveSession | null> {
  const { secret, isSecure } = authSettings();
  const now = new Date();
  const text = (await cookies()).get(sessionCookie(isSecure).name)?.value;
  const claims = await openSession(text, secret, now);
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
