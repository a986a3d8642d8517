import { decode, encode } from 'next-auth/jwt';
import * as z from 'zod';
import { anId, type PersonId, type ProgramId } from '@/lib/domain/shared/ids';

const DAY = 24 * 60 * 60;

/**
 * How long a sign-in lasts, in seconds. Without a visit it ends after `idle`; a visit renews it once it is older than
 * `renewAfter`; after `longest` it ends however busy it was. A player sends a swing every week or two, so that a
 * shorter idle time would lock children out at each lesson; what protects a lost phone is "sign out everywhere".
 */
export const SESSION = { idle: 30 * DAY, renewAfter: DAY / 2, longest: 120 * DAY } as const;

/** How long after signing in by link a password may be set without the old one, in seconds. */
export const FRESH_LINK = 15 * 60;

export const SIGN_IN_WAYS = ['password', 'link', 'demo'] as const;

/** What the session cookie says, encrypted. Nothing about the person but the id. */
export const claimsSchema = z.object({
  sub: anId<PersonId>(),
  /** Which session this is: one sign-in on one device. */
  sid: z.uuid(),
  /** The person's `sessionVersion` at that time: a later one ends this session. */
  ver: z.int().positive(),
  /** The program being looked at; null for the first one there is. */
  prog: anId<ProgramId>().nullable(),
  how: z.enum(SIGN_IN_WAYS),
  /** When it was signed in and when it was last renewed, in seconds since 1970. */
  since: z.int().positive(),
  iat: z.int().positive().optional(),
});
export type Claims = z.infer<typeof claimsSchema>;

/** The cookie's name and attributes. `__Host-` on https: this host only, whole site, never over plain http (RFC 6265bis). */
export const sessionCookie = (isSecure: boolean) => ({
  name: isSecure ? '__Host-cagepost.session' : 'cagepost.session',
  options: { httpOnly: true, sameSite: 'lax', path: '/', secure: isSecure } as const,
});

/** The claims of a cookie's text; null for anything that this site did not seal, or that has died. */
export async function openSession(
  text: string | undefined,
  secret: string,
  now: Date,
): Promise<Claims | null> {
  if (!text) return null;
  try {
    const claims = claimsSchema.parse(await decode({ token: text, secret }));
    return claims.since + SESSION.longest > now.getTime() / 1000 ? claims : null;
  } catch {
    return null;
  }
}

/** The cookie's text for these claims, good for another idle time. */
export const sealSession = (claims: Claims, secret: string): Promise<string> =>
  encode({ token: { ...claims }, secret, maxAge: SESSION.idle });
