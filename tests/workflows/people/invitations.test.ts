import { describe, expect, test } from 'vitest';
import { asSystem } from '@/lib/auth/system';
import { prisma } from '@/lib/data/client';
import type { Day } from '@/lib/domain/people/age';
import { acceptInvitation, type Accepting } from '@/lib/workflows/accept-invitation';
import { invitePerson } from '@/lib/workflows/invite-person';
import { openInvitation } from '@/lib/workflows/open-invitation';
import { withdrawInvitation } from '@/lib/workflows/withdraw-invitation';
import type { Role } from '@/lib/domain/people/viewer';
import {
  bornAged,
  buildCoach,
  buildInvitation,
  buildLead,
  buildPlayer,
  buildProgram,
} from '../../support/build';
import { fakePorts } from '../../support/fake-ports';
import { viewerOf } from '../../support/viewers';

const system = asSystem('sign-in');
const DAYS = 24 * 3_600_000;
const bornDay = (age: number) => bornAged(age).toISOString().slice(0, 10) as Day;
const somebody = (over: Partial<Extract<Accepting, { kind: 'new' }>> = {}): Accepting => ({
  kind: 'new',
  name: 'Robin Sample',
  password: 'stay through the middle',
  birthDate: null,
  hasConsented: false,
  ...over,
});

async function academy() {
  const program = await buildProgram();
  const lead = await buildLead(program);
  return { program, lead, viewer: await viewerOf(lead, program), ports: fakePorts() };
}

/** Sends an invitation as the lead does and takes the token out of the mail that is to leave. */
async function invited(role: 'player' | 'guardian' | 'coach', playerId?: string) {
  const here = await academy();
  const email = `invited.${crypto.randomUUID()}@example.org`;
  const input = { role, name: 'Robin', email, playerId: playerId as never };
  const { invitationId } = await invitePerson(here.ports, here.viewer, input);
  const mail = await prisma.outboxMail.findFirstOrThrow({ where: { toEmail: email } });
  const token = (mail.data as { path: string }).path.replace('/invite/', '');
  return { ...here, email, invitationId, token };
}

describe('inviting', () => {
  test('keeps the hash of the token only, tells by mail, and writes the audit without a name', async () => {
    const { token, invitationId, email, program } = await invited('player');
    const row = await prisma.invitation.findUniqueOrThrow({ where: { id: invitationId } });
    expect(JSON.stringify(row)).not.toContain(token);
    const [audit] = await prisma.auditEntry.findMany({ where: { programId: program.id } });
    expect(audit).toMatchObject({ action: 'invitation.sent', subject: `invitation:${invitationId}` });
    expect(JSON.stringify(audit)).not.toContain(email);
  });

  test('again to the same place makes the earlier link useless', async () => {
    const { token, viewer, ports, email } = await invited('coach');
    await invitePerson(ports, viewer, { role: 'coach', name: 'Robin', email });
    expect(await openInvitation(ports, system, token)).toBeNull();
  });

  test('answers the same whether the address has an account or not', async () => {
    const { ports, viewer } = await academy();
    const known = await buildCoach(await buildProgram());
    const answers = [];
    for (const email of [known.email!, 'unknown@example.org']) {
      answers.push(Object.keys(await invitePerson(ports, viewer, { role: 'coach', name: 'Robin', email })));
    }
    expect(answers[0]).toEqual(answers[1]);
  });

  test('a minor cannot name themselves', async () => {
    const { program, ports } = await academy();
    const player = await buildPlayer(program, { age: 15 });
    const viewer = await viewerOf(player, program);
    const input = { role: 'guardian', name: 'Me', email: player.email!, playerId: player.id } as const;
    await expect(invitePerson(ports, viewer, input)).rejects.toMatchObject({ fault: 'invalid' });
  });
});

describe('accepting', () => {
  test.each([
    ['coach', {}],
    ['player', { birthDate: bornDay(15) }],
    ['guardian', { hasConsented: true }],
  ] as const)('as a %s makes account and place, once', async (role, over) => {
    const { token, ports, program, email } = await invited(role);
    const { personId } = await acceptInvitation(ports, system, { token, who: somebody(over) });
    const person = await prisma.person.findUniqueOrThrow({
      where: { id: personId },
      include: { memberships: true, threads: true },
    });
    expect(person).toMatchObject({ email, passwordHash: 'hash of stay through the middle' });
    expect(person.memberships.map((one) => one.role)).toEqual([role as Role]);
    expect(person.threads).toHaveLength(role === 'player' ? 1 : 0);
    await expect(acceptInvitation(ports, system, { token, who: somebody(over) })).rejects.toMatchObject({
      fault: 'not-found',
    });
    expect(await openInvitation(ports, system, token)).toBeNull();
    expect(
      await prisma.auditEntry.count({ where: { programId: program.id, action: 'invitation.accepted' } }),
    ).toBe(1);
  });

  test('of four at once one wins', async () => {
    const { token, ports, email } = await invited('coach');
    const tries = [1, 2, 3, 4].map(() => acceptInvitation(ports, system, { token, who: somebody() }));
    const done = await Promise.allSettled(tries);
    expect(done.filter((one) => one.status === 'fulfilled')).toHaveLength(1);
    expect(await prisma.person.count({ where: { email } })).toBe(1);
  });

  test.each([
    ['used', { usedAt: new Date() }],
    ['withdrawn', { withdrawnAt: new Date() }],
    ['expired', { expiresAt: new Date(Date.now() - 1000) }],
    ['forged', null],
  ] as const)('a link that is %s says the same as one that never was', async (_how, over) => {
    const { program, lead, ports } = await academy();
    const { token } = over
      ? await buildInvitation(program, lead, { role: 'coach', ...over })
      : { token: 'no such token' };
    expect(await openInvitation(ports, system, token)).toBeNull();
    const error = await acceptInvitation(ports, system, { token, who: somebody() }).catch((e: unknown) => e);
    expect(error).toMatchObject({
      fault: 'not-found',
      forPeople: 'There is no such invitation, or it is not yours to see.',
    });
  });

  test('works on the fourteenth day and not after it', async () => {
    const { token, ports } = await invited('coach');
    ports.later(14 * DAYS - 1000);
    expect(await openInvitation(ports, system, token)).not.toBeNull();
    ports.later(2000);
    expect(await openInvitation(ports, system, token)).toBeNull();
  });

  test('under 13 makes no account, keeps nothing, and cannot be tried again with another date', async () => {
    const { token, ports, email, invitationId, program } = await invited('player');
    const young = somebody({ birthDate: bornDay(12) });
    await expect(acceptInvitation(ports, system, { token, who: young })).rejects.toMatchObject({
      fault: 'safeguarding',
    });
    const older = somebody({ birthDate: bornDay(16) });
    await expect(acceptInvitation(ports, system, { token, who: older })).rejects.toMatchObject({
      fault: 'not-found',
    });
    expect(await prisma.person.count({ where: { email } })).toBe(0);
    const row = await prisma.invitation.findUniqueOrThrow({ where: { id: invitationId } });
    expect(row).toMatchObject({ usedAt: null, withdrawnAt: expect.any(Date) });
    const audit = await prisma.auditEntry.findFirstOrThrow({
      where: { programId: program.id, action: 'invitation.needs-guardian' },
    });
    expect(JSON.stringify(audit)).not.toContain(bornDay(12));
  });

  test.each([
    ['no birth date', 'player', {}],
    ['a birth date ahead', 'player', { birthDate: '2999-01-01' as Day }],
    ['a birth date long ago', 'player', { birthDate: '1899-12-31' as Day }],
    ['no consent', 'guardian', { hasConsented: false }],
    ['a password that everybody knows', 'coach', { password: 'everybody knows this' }],
  ] as const)('with %s is refused, and the link still works', async (_what, role, over) => {
    const { token, ports } = await invited(role);
    await expect(acceptInvitation(ports, system, { token, who: somebody(over) })).rejects.toMatchObject({
      fault: 'invalid',
    });
    expect(await openInvitation(ports, system, token)).not.toBeNull();
  });

  test('an address with an account is accepted by its owner, signed in, and by nobody else', async () => {
    const elsewhere = await buildProgram();
    const known = await buildCoach(elsewhere);
    const stranger = await buildCoach(elsewhere);
    const { program, lead, ports } = await academy();
    const { token } = await buildInvitation(program, lead, { role: 'coach', email: known.email! });
    await expect(acceptInvitation(ports, system, { token, who: somebody() })).rejects.toMatchObject({
      fault: 'wrong-state',
    });
    const as = (personId: typeof known.id): Accepting => ({
      kind: 'known',
      personId,
      birthDate: null,
      hasConsented: false,
    });
    await expect(acceptInvitation(ports, system, { token, who: as(stranger.id) })).rejects.toMatchObject({
      fault: 'not-found',
    });
    await acceptInvitation(ports, system, { token, who: as(known.id) });
    expect((await viewerOf(known, program)).roles).toEqual(['coach']);
    expect((await viewerOf(known, elsewhere)).programId).toBe(elsewhere.id);
  });

  test('a person known to be a minor is nobody’s guardian', async () => {
    const { program, lead, ports } = await academy();
    const friend = await buildPlayer(program, { age: 16 });
    const player = await buildPlayer(program, { age: 15 });
    const { token } = await buildInvitation(program, lead, {
      role: 'guardian',
      email: friend.email!,
      playerId: player.id,
    });
    const who: Accepting = { kind: 'known', personId: friend.id, birthDate: null, hasConsented: true };
    await expect(acceptInvitation(ports, system, { token, who })).rejects.toMatchObject({
      fault: 'safeguarding',
    });
  });
});

test('a withdrawn invitation opens nothing', async () => {
  const { token, ports, viewer, invitationId } = await invited('player');
  await withdrawInvitation(ports, viewer, { invitationId });
  expect(await openInvitation(ports, system, token)).toBeNull();
  await expect(withdrawInvitation(ports, viewer, { invitationId })).rejects.toMatchObject({
    fault: 'not-found',
  });
});
