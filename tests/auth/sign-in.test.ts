import { describe, expect, test } from 'vitest';
import { passwords } from '@/lib/auth/passwords';
import { openSession, SESSION } from '@/lib/auth/session';
import { asSystem } from '@/lib/auth/system';
import { liveSession } from '@/lib/auth/viewer';
import { prisma } from '@/lib/data/client';
import { LIMITS } from '@/lib/data/rate-limit';
import { keepSignInLink } from '@/lib/data/sign-in.system';
import { authClient } from '../support/auth-client';
import { buildCoach, buildPerson, buildPlayer, buildProgram } from '../support/build';

const SECRET = 'a secret that is only ever used in tests';
const PASSWORD = 'stay through the middle';

const coachWithPassword = async () => {
  const program = await buildProgram();
  const coach = await buildCoach(program, { passwordHash: await passwords.hash(PASSWORD) });
  return { program, coach, email: coach.email! };
};

describe('by password', () => {
  test('the right one opens a session that knows the person and nothing else about them', async () => {
    const { program, coach, email } = await coachWithPassword();
    const browser = authClient();
    const answer = await browser.signIn('password', {
      email: `  ${email.toUpperCase()} `,
      password: PASSWORD,
    });
    expect(answer.status).toBe(200);
    const cookie = browser.cookies.get('cagepost.session')!;
    expect(cookie.text).toMatch(/HttpOnly/i);
    expect(cookie.text).toMatch(/SameSite=Lax/i);
    const claims = await openSession(cookie.value, SECRET, new Date());
    expect(Object.keys(claims!).sort()).toEqual(['how', 'iat', 'prog', 'sid', 'since', 'sub', 'ver']);
    const live = await liveSession(claims!, new Date());
    expect(live?.viewer).toMatchObject({ personId: coach.id, programId: program.id, roles: ['coach'] });
    expect(await browser.session()).toMatchObject({ personId: coach.id });
  });

  test('on https the cookie is bound to this host', async () => {
    const { email } = await coachWithPassword();
    const browser = authClient({ isSecure: true });
    await browser.signIn('password', { email, password: PASSWORD });
    const text = browser.cookies.get('__Host-cagepost.session')!.text;
    expect(text).toMatch(/; Secure/);
    expect(text).toMatch(/Path=\//);
    expect(text).not.toMatch(/Domain=/i);
  });

  test('without the CSRF token nothing happens', async () => {
    const { email } = await coachWithPassword();
    const browser = authClient();
    await browser.ask('POST', ['callback', 'password'], { email, password: PASSWORD, json: 'true' });
    expect(browser.cookies.has('cagepost.session')).toBe(false);
  });

  test('a wrong password, an unknown address and one without a password answer the same', async () => {
    const { email } = await coachWithPassword();
    const without = await buildPerson();
    const given = [
      { email, password: 'not the right one' },
      { email: 'nobody@example.org', password: PASSWORD },
      { email: without.email!, password: PASSWORD },
      { email: 'no address at all', password: PASSWORD },
      { email, password: 'x'.repeat(100_000) },
    ];
    const answers = [];
    for (const body of given) {
      const browser = authClient();
      const { status, body: said } = await browser.signIn('password', body);
      answers.push({ status, said, hasSession: browser.cookies.has('cagepost.session') });
    }
    expect(new Set(answers.map((one) => JSON.stringify(one))).size).toBe(1);
    expect(answers[0]).toMatchObject({ status: 401, hasSession: false });
  });

  test('an unknown address costs as much work as a known one', async () => {
    const hash = await passwords.hash(PASSWORD);
    const times: Record<'known' | 'unknown', number[]> = { known: [], unknown: [] };
    const measure = async (which: 'known' | 'unknown') => {
      const before = performance.now();
      await passwords.matches(which === 'known' ? hash : null, 'not the right one');
      times[which].push(performance.now() - before);
    };
    await passwords.matches(null, 'warm up');
    // By turns, so that whatever else this machine does falls on both alike.
    for (let i = 0; i < 9; i++) for (const which of ['known', 'unknown'] as const) await measure(which);
    const median = (all: number[]) => all.sort((a, b) => a - b)[4]!;
    const ratio = median(times.unknown) / median(times.known);
    expect(ratio).toBeGreaterThan(1 / 3);
    expect(ratio).toBeLessThan(3);
  });

  test('the hash says what it was made with: argon2id, 19 MiB, 2 passes, 1 lane (OWASP Password Storage Cheat Sheet)', async () => {
    expect(await passwords.hash(PASSWORD)).toMatch(/^\$argon2id\$v=19\$m=19456,t=2,p=1\$/);
  });

  test('too many tries for one account are refused from every address, even with the right password', async () => {
    const { email } = await coachWithPassword();
    for (let i = 0; i < LIMITS['auth.password.account'].points; i++) {
      const answer = await authClient({}, `198.51.100.${i}`).signIn('password', { email, password: 'wrong' });
      expect(answer.status).toBe(401);
    }
    const browser = authClient({}, '198.51.100.200');
    const answer = await browser.signIn('password', { email, password: PASSWORD });
    expect(answer.body).toEqual({ url: expect.stringContaining('error=too-many') });
    expect(browser.cookies.has('cagepost.session')).toBe(false);
    const rows = await prisma.rateLimit.findMany();
    expect(JSON.stringify(rows)).not.toContain(email);
  });

  test('neither password nor address reaches the log', async () => {
    const { email } = await coachWithPassword();
    const browser = authClient();
    await browser.signIn('password', { email, password: PASSWORD });
    await browser.signIn('password', { email, password: 'a wrong one' });
    const said = browser.log.lines.join('\n');
    expect(said).toContain('refused');
    expect(said).not.toContain(email);
    expect(said).not.toContain(PASSWORD);
    expect(said).not.toContain('a wrong one');
  });
});

describe('by link', () => {
  const withLink = async (minutes: number) => {
    const program = await buildProgram();
    const player = await buildPlayer(program, { age: 15 });
    const token = `link-${player.id}`;
    const now = new Date();
    const link = { personId: player.id, token, expires: new Date(now.getTime() + minutes * 60_000) };
    await keepSignInLink(asSystem('sign-in'), link, now);
    return { player, token };
  };

  test('a link lets in once; the token is nowhere in the database', async () => {
    const { player, token } = await withLink(15);
    expect(JSON.stringify(await prisma.verificationToken.findMany())).not.toContain(token);
    const browser = authClient();
    await browser.signIn('link', { token });
    expect(await browser.session()).toMatchObject({ personId: player.id });
    const second = authClient();
    expect((await second.signIn('link', { token })).status).toBe(401);
    expect(second.cookies.has('cagepost.session')).toBe(false);
  });

  test('of two presses at once one gets in', async () => {
    const { token } = await withLink(15);
    const browsers = [authClient(), authClient(), authClient(), authClient()];
    const answers = await Promise.all(browsers.map((browser) => browser.signIn('link', { token })));
    expect(answers.filter((answer) => answer.status === 200)).toHaveLength(1);
  });

  test.each([
    ['expired', async () => (await withLink(-1)).token],
    ['forged', async () => 'link-of-nobody'],
    ['empty', async () => ''],
    ['endless', async () => 'x'.repeat(5000)],
  ])('an %s one is refused', async (_kind, makeToken) => {
    const browser = authClient();
    expect((await browser.signIn('link', { token: await makeToken() })).status).toBe(401);
    expect(browser.cookies.has('cagepost.session')).toBe(false);
  });
});

describe('by the demo door', () => {
  test('where it is closed the way in does not exist, not even for demo people', async () => {
    const program = await buildProgram();
    const coach = await buildCoach(program, { isDemo: true });
    const browser = authClient({ isDemoDoorOpen: false });
    expect(Object.keys((await browser.ask('GET', ['providers'])).body as object)).toEqual([
      'password',
      'link',
    ]);
    await browser.signIn('demo', { personId: coach.id });
    expect(browser.cookies.has('cagepost.session')).toBe(false);
  });

  test('where it is open it lets in as demo people and as nobody else', async () => {
    const program = await buildProgram();
    const demo = await buildCoach(program, { isDemo: true });
    const real = await buildCoach(program);
    const browser = authClient({ isDemoDoorOpen: true });
    await browser.signIn('demo', { personId: demo.id });
    expect(await browser.session()).toMatchObject({ personId: demo.id });
    for (const personId of [real.id, 'not an id', '']) {
      const other = authClient({ isDemoDoorOpen: true });
      expect((await other.signIn('demo', { personId })).status).toBe(401);
    }
  });
});

describe('a session ends', () => {
  const signedIn = async () => {
    const { program, coach, email } = await coachWithPassword();
    const browser = authClient();
    await browser.signIn('password', { email, password: PASSWORD });
    const cookie = browser.cookies.get('cagepost.session')!.value;
    const isAlive = async (now = new Date()) => {
      const claims = await openSession(cookie, SECRET, now);
      return Boolean(claims && (await liveSession(claims, now)));
    };
    expect(await isAlive()).toBe(true);
    return { program, coach, email, browser, cookie, isAlive };
  };

  test('by signing out: a kept copy of the cookie opens nothing', async () => {
    const { browser, isAlive, cookie } = await signedIn();
    await browser.signOut();
    expect(browser.cookies.has('cagepost.session')).toBe(false);
    expect(await isAlive()).toBe(false);
    browser.cookies.set('cagepost.session', { value: cookie, text: '' });
    expect(await browser.session()).toEqual({});
    expect(browser.cookies.has('cagepost.session')).toBe(false);
  });

  test('signing out on one device leaves the other signed in', async () => {
    const { browser, email, coach } = await signedIn();
    const other = authClient();
    await other.signIn('password', { email, password: PASSWORD });
    await browser.signOut();
    expect(await other.session()).toMatchObject({ personId: coach.id });
  });

  test('when every session of the person was ended', async () => {
    const { coach, isAlive, browser } = await signedIn();
    await prisma.person.update({ where: { id: coach.id }, data: { sessionVersion: { increment: 1 } } });
    expect(await isAlive()).toBe(false);
    expect(await browser.session()).toEqual({});
  });

  test('after its longest time, however busy it was', async () => {
    const { isAlive } = await signedIn();
    const days = 24 * 3600 * 1000;
    expect(await isAlive(new Date(Date.now() + SESSION.idle * 1000 - days))).toBe(true);
    expect(await isAlive(new Date(Date.now() + SESSION.longest * 1000 + days))).toBe(false);
  });

  test('by leaving the program: the session lives, but sees nothing', async () => {
    const { coach, cookie } = await signedIn();
    await prisma.membership.deleteMany({ where: { personId: coach.id } });
    const claims = await openSession(cookie, SECRET, new Date());
    expect(await liveSession(claims!, new Date())).toMatchObject({ viewer: null, programs: [] });
  });

  test.each(['', 'nonsense', 'a.b.c.d.e'])('"%s" is no session', async (text) => {
    expect(await openSession(text, SECRET, new Date())).toBeNull();
  });

  test('a cookie sealed with another secret is no session', async () => {
    const { cookie } = await signedIn();
    expect(await openSession(cookie, 'some other secret', new Date())).toBeNull();
  });
});
