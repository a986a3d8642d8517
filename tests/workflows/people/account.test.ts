import { describe, expect, test } from 'vitest';
import { asSystem } from '@/lib/auth/system';
import { liveSession } from '@/lib/auth/viewer';
import { prisma } from '@/lib/data/client';
import { LIMITS } from '@/lib/data/rate-limit';
import { takeSignInLink } from '@/lib/data/sign-in.system';
import { changePassword } from '@/lib/workflows/change-password';
import { endSessions } from '@/lib/workflows/end-sessions';
import { requestSignInLink } from '@/lib/workflows/request-sign-in-link';
import { buildCoach, buildPlayer, buildProgram } from '../../support/build';
import { fakePorts } from '../../support/fake-ports';
import { claimsOf, viewerOf } from '../../support/viewers';

const system = asSystem('sign-in');
const origin = 'https://lessons.example.org';

async function coachWith(passwordHash: string | null, isDemo = false) {
  const program = await buildProgram();
  const coach = await buildCoach(program, { passwordHash, isDemo });
  return { program, coach, viewer: await viewerOf(coach, program), claims: await claimsOf(coach) };
}

describe('a sign-in link', () => {
  test('is mailed at once to a known address, with the token behind the # and nowhere else', async () => {
    const { coach } = await coachWith(null);
    const ports = fakePorts();
    await requestSignInLink(ports, system, { email: coach.email!, origin });
    expect(ports.mails).toHaveLength(1);
    const [mail] = ports.mails;
    expect(mail).toMatchObject({ to: coach.email });
    const [, token] = /https:\/\/lessons\.example\.org\/sign-in\/link#([\w-]+)/.exec(mail!.text)!;
    expect(mail!.html).toContain(`#${token}`);
    expect(await prisma.outboxMail.count()).toBe(0);
    expect(ports.log.lines.join()).not.toContain(token);
    expect(await takeSignInLink(system, token!, ports.clock.now())).toMatchObject({ personId: coach.id });
  });

  test('an unknown address gets no mail, no token, and no error', async () => {
    const ports = fakePorts();
    await requestSignInLink(ports, system, { email: 'nobody@example.org', origin });
    expect(ports.mails).toEqual([]);
  });

  test('nobody’s mailbox is filled: the limit counts for known and unknown alike', async () => {
    const { coach } = await coachWith(null);
    for (const email of [coach.email!, 'nobody.else@example.org']) {
      const ports = fakePorts();
      const ask = () => requestSignInLink(ports, system, { email, origin });
      for (let i = 0; i < LIMITS['auth.link.account'].points; i++) await ask();
      await expect(ask()).rejects.toMatchObject({ fault: 'too-many' });
    }
  });

  test('a child without an address cannot be reached at all', async () => {
    const child = await buildPlayer(await buildProgram(), { age: 11 });
    expect(child).toMatchObject({ email: null, passwordHash: null });
  });
});

describe('a new password', () => {
  const given = {
    oldPassword: 'the old one',
    newPassword: 'stay through the middle',
    isFreshFromLink: false,
  };
  const { passwords } = fakePorts();

  test('needs the old one, ends every session and every open link', async () => {
    const { coach, viewer, claims } = await coachWith('hash of the old one');
    const ports = fakePorts();
    await requestSignInLink(ports, system, { email: coach.email!, origin });
    const wrong = { ...given, oldPassword: 'a guess' };
    await expect(changePassword({ passwords }, viewer, system, wrong)).rejects.toMatchObject({
      fault: 'invalid',
    });
    expect(await liveSession(claims, new Date())).not.toBeNull();
    const { sessionVersion } = await changePassword({ passwords }, viewer, system, given);
    expect(await liveSession(claims, new Date())).toBeNull();
    expect(await liveSession({ ...claims, ver: sessionVersion }, new Date())).not.toBeNull();
    expect(await prisma.verificationToken.count({ where: { identifier: coach.id } })).toBe(0);
  });

  test.each([
    ['right after a link', 'hash of the old one', true],
    ['for somebody who has none', null, false],
  ])('does without the old one %s', async (_when, kept, isFreshFromLink) => {
    const { coach, viewer } = await coachWith(kept);
    await changePassword({ passwords }, viewer, system, { ...given, oldPassword: '', isFreshFromLink });
    const row = await prisma.person.findUniqueOrThrow({ where: { id: coach.id } });
    expect(row.passwordHash).toBe('hash of stay through the middle');
  });

  test('that everybody knows is refused', async () => {
    const { viewer } = await coachWith(null);
    const weak = { ...given, newPassword: 'everybody knows this' };
    await expect(changePassword({ passwords }, viewer, system, weak)).rejects.toMatchObject({
      fault: 'invalid',
    });
  });

  test('demo people keep their way in', async () => {
    const { viewer } = await coachWith(null, true);
    await expect(changePassword({ passwords }, viewer, system, given)).rejects.toMatchObject({
      fault: 'wrong-state',
    });
  });
});

test('signing out everywhere ends the sessions of this person and of nobody else', async () => {
  const one = await coachWith(null);
  const two = await coachWith(null);
  await endSessions(one.viewer, system);
  expect(await liveSession(one.claims, new Date())).toBeNull();
  expect(await liveSession(two.claims, new Date())).not.toBeNull();
});
