import NextAuth from 'next-auth';
import { authOptions, type AuthSettings } from '@/lib/auth/options';
import type { Log } from '@/lib/workflows/ports';

/** What was logged, for tests that look whether something leaked into it. */
export const listen = (): Log & { lines: string[] } => {
  const lines: string[] = [];
  const note = (facts: unknown, message: string) => void lines.push(JSON.stringify({ facts, message }));
  return { lines, info: note, warn: note, error: note };
};

interface Reply {
  status: number;
  body: unknown;
  headers: Record<string, string | string[]>;
}

/**
 * A browser's worth of the auth routes: keeps cookies, fetches the CSRF token, and signs in as the pages do, against
 * the real handler and the real database.
 */
export function authClient(settings: Partial<AuthSettings> = {}, ip = '203.0.113.7') {
  process.env.NEXTAUTH_URL ??= 'http://127.0.0.1:3000';
  const log = listen();
  const options = authOptions({
    secret: 'a secret that is only ever used in tests',
    isSecure: false,
    isDemoDoorOpen: false,
    log,
    ...settings,
  });
  const cookies = new Map<string, { value: string; text: string }>();

  const ask = async (method: 'GET' | 'POST', path: readonly string[], body: Record<string, string> = {}) => {
    const reply: Reply = { status: 200, body: undefined, headers: {} };
    const response = {
      status: (status: number) => ((reply.status = status), response),
      setHeader: (name: string, value: string | string[]) => (
        (reply.headers[name.toLowerCase()] = value),
        response
      ),
      getHeader: (name: string) => reply.headers[name.toLowerCase()],
      json: (value: unknown) => void (reply.body = value),
      send: (value: unknown) => void (reply.body = value),
      end: () => undefined,
    };
    const request = {
      method,
      query: { nextauth: [...path] },
      body,
      cookies: Object.fromEntries([...cookies].map(([name, { value }]) => [name, value])),
      headers: { 'x-forwarded-for': ip },
    };
    await NextAuth(request as never, response as never, options);
    for (const text of [reply.headers['set-cookie'] ?? []].flat()) {
      const [, name = '', value = ''] = /^([^=]+)=([^;]*)/.exec(text) ?? [];
      if (value === '' || /Max-Age=0/i.test(text)) cookies.delete(name);
      else cookies.set(name, { value: decodeURIComponent(value), text });
    }
    return reply;
  };

  const post = async (path: readonly string[], body: Record<string, string>) => {
    const { csrfToken } = (await ask('GET', ['csrf'])).body as { csrfToken: string };
    return ask('POST', path, { ...body, csrfToken, json: 'true', callbackUrl: '/' });
  };

  return {
    log,
    cookies,
    ask,
    post,
    signIn: (way: string, body: Record<string, string>) => post(['callback', way], body),
    session: async () => (await ask('GET', ['session'])).body as { personId?: string },
    signOut: () => post(['signout'], {}),
  };
}
