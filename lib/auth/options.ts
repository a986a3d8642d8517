import type { NextAuthOptions, User } from 'next-auth';
import type { CredentialsConfig } from 'next-auth/providers/credentials';
import { endSession, type LoginFacts } from '@/lib/data/sign-in.system';
import { CagepostError } from '@/lib/domain/shared/errors';
import type { Log } from '@/lib/workflows/ports';
import { clientIp } from './client-ip';
import { claimsSchema, SESSION, sessionCookie, type Claims, type SIGN_IN_WAYS } from './session';
import { signInByDemoDoor, signInByLink, signInByPassword } from './sign-in';
import { asSystem } from './system';
import { liveSession } from './viewer';

/** What the auth library needs from the environment. */
export interface AuthSettings {
  secret: string;
  isSecure: boolean;
  isDemoDoorOpen: boolean;
  log: Log;
}

/** What a sign-in hands to the `jwt` callback: enough to write the claims. */
interface SignedIn extends User {
  ver: number;
  how: (typeof SIGN_IN_WAYS)[number];
}

/** Thrown for a session that is over; the library then takes the cookie away. */
class SessionOver extends Error {
  override readonly name = 'SessionOver';
}

type Way = (given: Record<string, string>, ip: string) => Promise<LoginFacts | null>;

/**
 * One way of signing in. All of them are POSTs under the library's CSRF token. What goes wrong leaves as one of three
 * words (`too-many`, `unavailable`, or the library's own for a refusal), never as the text of an error.
 */
const provider = (id: SignedIn['how'], fields: readonly string[], way: Way, log: Log): CredentialsConfig => ({
  id,
  name: id,
  type: 'credentials',
  credentials: Object.fromEntries(fields.map((field) => [field, {}])),
  async authorize(given, request) {
    const forwarded: unknown = request.headers?.['x-forwarded-for'];
    const values = Object.fromEntries(fields.map((field) => [field, String(given?.[field] ?? '')]));
    try {
      const login = await way(values, clientIp(typeof forwarded === 'string' ? forwarded : null));
      log.info({ how: id, outcome: login ? 'in' : 'refused', personId: login?.personId }, 'sign-in');
      return login && ({ id: login.personId, ver: login.sessionVersion, how: id } satisfies SignedIn);
    } catch (error) {
      if (error instanceof CagepostError && error.fault === 'too-many') {
        log.warn({ how: id, outcome: 'too-many' }, 'sign-in');
        throw new Error('too-many');
      }
      log.error({ how: id, err: error }, 'sign-in failed');
      throw new Error('unavailable');
    }
  },
});

const freshClaims = (user: SignedIn, now: Date): Claims => ({
  sub: user.id as Claims['sub'],
  sid: crypto.randomUUID(),
  ver: user.ver,
  prog: null,
  how: user.how,
  since: Math.floor(now.getTime() / 1000),
});

/**
 * The auth library's configuration: three ways to sign in, sessions as sealed cookies that are checked against the
 * database whenever they are used or renewed. Accounts are made by invitations alone, never here.
 */
export const authOptions = ({ secret, isSecure, isDemoDoorOpen, log }: AuthSettings): NextAuthOptions => ({
  secret,
  useSecureCookies: isSecure,
  session: { strategy: 'jwt', maxAge: SESSION.idle },
  cookies: { sessionToken: sessionCookie(isSecure) },
  pages: { signIn: '/sign-in', signOut: '/account', error: '/sign-in', verifyRequest: '/sign-in' },
  providers: [
    provider(
      'password',
      ['email', 'password'],
      ({ email = '', password = '' }, ip) => signInByPassword({ email, password }, ip),
      log,
    ),
    provider('link', ['token'], ({ token = '' }, ip) => signInByLink(token, ip), log),
    ...(isDemoDoorOpen
      ? [provider('demo', ['personId'], ({ personId = '' }, ip) => signInByDemoDoor(personId, ip), log)]
      : []),
  ],
  callbacks: {
    async jwt({ token, user }) {
      const now = new Date();
      if (user) return { ...freshClaims(user as SignedIn, now) };
      const claims = claimsSchema.safeParse(token);
      const isOld = !claims.success || claims.data.since + SESSION.longest <= now.getTime() / 1000;
      const live = isOld ? null : await liveSession(claims.data, now);
      if (!live) throw new SessionOver();
      return { ...live.claims };
    },
    session({ session, token }) {
      return { expires: session.expires, personId: token.sub } as typeof session;
    },
    redirect({ url, baseUrl }) {
      if (url.startsWith('/')) return new URL(url, baseUrl).origin === baseUrl ? baseUrl + url : baseUrl;
      return URL.canParse(url) && new URL(url).origin === baseUrl ? url : baseUrl;
    },
  },
  events: {
    async signOut({ token }) {
      const claims = claimsSchema.safeParse(token);
      if (!claims.success) return;
      const dies = new Date((claims.data.since + SESSION.longest) * 1000);
      await endSession(asSystem('sign-in'), claims.data.sid, dies, new Date());
      log.info({ personId: claims.data.sub }, 'signed out');
    },
  },
  logger: {
    // A cookie of a session that is over is no fault of the program: it is taken away and that is all.
    error: (code) => (code === 'JWT_SESSION_ERROR' ? undefined : log.error({ code }, 'auth library')),
    warn: (code) => log.warn({ code }, 'auth library'),
    debug: () => undefined,
  },
});
