import { v7 as uuid } from 'uuid';
import { describe, expect, test } from 'vitest';
import { asSystem } from '@/lib/auth/system';
import { prisma } from '@/lib/data/client';
import { listExpectedChildren } from '@/lib/data/invitations.read';
import { dayOfDate } from '@/lib/domain/people/age';
import type { PersonId } from '@/lib/domain/shared/ids';
import { acceptInvitation, type Accepting } from '@/lib/workflows/accept-invitation';
import { addChild } from '@/lib/workflows/add-child';
import { declineChild } from '@/lib/workflows/decline-child';
import { inviteTable } from '@/lib/workflows/invite-table';
import { lookAtTable } from '@/lib/workflows/look-at-table';
import {
  bornAged,
  buildCoach,
  buildGuardian,
  buildLead,
  buildPlayer,
  buildProgram,
} from '../../support/build';
import { fakePorts } from '../../support/fake-ports';
import { viewerOf } from '../../support/viewers';

const system = asSystem('sign-in');
const HEAD = 'name,email,role,birth date,child name,child birth date,guardian name,guardian email';
const bornDay = (age: number) => dayOfDate(bornAged(age));
const fresh = () => `${uuid()}@example.org`;
const tableOf = (...lines: string[]) => [HEAD, ...lines].join('\r\n');
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
  return { program, viewer: await viewerOf(lead, program), ports: fakePorts() };
}

async function tokenFor(email: string): Promise<string> {
  const mail = await prisma.outboxMail.findFirstOrThrow({
    where: { toEmail: email },
    orderBy: { createdAt: 'desc' },
  });
  return (mail.data as { path: string }).path.replace('/invite/', '');
}

describe('looking at a table', () => {
  test('tells of each row what would become of it, and changes nothing', async () => {
    const { program, viewer, ports } = await academy();
    const coach = await buildCoach(program);
    const child = await buildPlayer(program, { age: 10, name: 'Wren Sample' });
    const text = tableOf(
      `A,${fresh()},coach`,
      `B,${coach.email?.toUpperCase()},coach`,
      `G,${fresh()},guardian,,wren sample,${bornDay(10)}`,
      'C,nothing,coach',
    );
    const { rows } = await lookAtTable(ports, viewer, text);
    expect(rows.map((row) => row.outcome)).toEqual(['invite', 'here', 'invite', 'cannot']);
    expect(rows[2]?.invitation?.playerId).toBe(child.id);
    expect(await prisma.invitation.count({ where: { programId: program.id } })).toBe(0);
  });

  test('knows nothing of an address that only another program has', async () => {
    const { viewer, ports } = await academy();
    const stranger = await buildCoach(await buildProgram());
    const { rows } = await lookAtTable(ports, viewer, tableOf(`A,${stranger.email},coach`));
    expect(rows[0]?.outcome).toBe('invite');
  });

  test('and inviting are a lead’s; a table that is none is refused in words', async () => {
    const { program, viewer, ports } = await academy();
    const coach = await viewerOf(await buildCoach(program), program);
    const text = tableOf(`A,${fresh()},coach`);
    await expect(lookAtTable(ports, coach, text)).rejects.toMatchObject({ fault: 'not-found' });
    await expect(inviteTable(ports, coach, { batchId: uuid(), text })).rejects.toMatchObject({
      fault: 'not-found',
    });
    await expect(lookAtTable(ports, viewer, 'hello')).rejects.toMatchObject({
      fault: 'invalid',
      forPeople: expect.stringMatching(/first row has to name the columns.*Nothing was sent/),
    });
  });
});

describe('inviting a table', () => {
  test('sends who can be invited, audited with ids only, and says why the others were not', async () => {
    const { program, viewer, ports } = await academy();
    const [a, b] = [fresh(), fresh()];
    const text = tableOf(`Ana,${a},coach`, `Ben,${b},player,2000-01-01`, 'C,nothing,coach');
    const { rows } = await inviteTable(ports, viewer, { batchId: uuid(), text });
    expect(rows.map((row) => row.outcome)).toEqual(['invited', 'invited', 'cannot']);
    expect(await prisma.outboxMail.count({ where: { toEmail: { in: [a, b] }, kind: 'invitation' } })).toBe(2);
    const audit = await prisma.auditEntry.findMany({ where: { programId: program.id } });
    expect(audit.map((one) => one.action).sort()).toEqual([
      'invitation.sent',
      'invitation.sent',
      'invitations.sent',
    ]);
    expect(JSON.stringify(audit)).not.toMatch(/Ana|@example/);
    expect(ports.jobs).toEqual(['drain']);
  });

  test('sent twice, also at once, invites once; sent anew with more rows, only the new ones', async () => {
    const { program, viewer, ports } = await academy();
    const lines = Array.from({ length: 20 }, (_, n) => `P${n},${fresh()},coach`);
    const input = { batchId: uuid(), text: tableOf(...lines) };
    const [one, two] = await Promise.all([
      inviteTable(ports, viewer, input),
      inviteTable(ports, viewer, input),
    ]);
    expect(one.rows.every((row) => row.outcome === 'invited')).toBe(true);
    expect(two.rows).toEqual(one.rows);
    const where = { programId: program.id };
    expect(await prisma.invitation.count({ where })).toBe(20);
    const more = { batchId: uuid(), text: tableOf(...lines, `New,${fresh()},coach`) };
    const third = await inviteTable(ports, viewer, more);
    expect(third.rows.map((row) => row.outcome)).toEqual([...lines.map(() => 'open'), 'invited']);
    expect(await prisma.invitation.count({ where })).toBe(21);
    expect(await prisma.invitation.count({ where: { ...where, withdrawnAt: { not: null } } })).toBe(0);
  });

  test('takes 500 people in one go', async () => {
    const { program, viewer, ports } = await academy();
    const lines = Array.from({ length: 500 }, (_, n) => `P${n},${fresh()},coach`);
    const { rows } = await inviteTable(ports, viewer, { batchId: uuid(), text: tableOf(...lines) });
    expect(rows.every((row) => row.outcome === 'invited')).toBe(true);
    expect(await prisma.invitation.count({ where: { programId: program.id } })).toBe(500);
  });
});

describe('a minor of 13 to 17 out of a table', () => {
  test('is followed by their guardian as soon as they accept, and stands by the program’s birth date', async () => {
    const { program, viewer, ports } = await academy();
    const [teen, parent] = [fresh(), fresh()];
    const text = tableOf(`Teen,${teen},player,${bornDay(15)},,,Pat Parent,${parent}`);
    await inviteTable(ports, viewer, { batchId: uuid(), text });
    expect(await prisma.outboxMail.count({ where: { toEmail: parent } })).toBe(0);
    const { personId } = await acceptInvitation(ports, system, {
      token: await tokenFor(teen),
      who: somebody({ birthDate: bornDay(30) }),
    });
    const player = await prisma.person.findUniqueOrThrow({ where: { id: personId } });
    expect(player.birthDate).toEqual(bornAged(15));
    await acceptInvitation(ports, system, {
      token: await tokenFor(parent),
      who: somebody({ hasConsented: true }),
    });
    const [guardianship] = await prisma.guardianship.findMany({
      where: { playerId: personId },
      include: { guardian: true },
    });
    expect(guardianship).toMatchObject({ verifiedAt: expect.any(Date), guardian: { email: parent } });
    expect(await prisma.invitation.count({ where: { programId: program.id, playerId: personId } })).toBe(1);
  });

  test('who is of age by the time they accept calls no guardian', async () => {
    const { viewer, ports } = await academy();
    const [teen, parent] = [fresh(), fresh()];
    const text = tableOf(`Teen,${teen},player,${bornDay(17)},,,Pat,${parent}`);
    await inviteTable(ports, viewer, { batchId: uuid(), text });
    await prisma.invitation.updateMany({ where: { email: teen }, data: { childBirthDate: bornAged(18) } });
    await acceptInvitation(ports, system, { token: await tokenFor(teen), who: somebody() });
    expect(await prisma.outboxMail.count({ where: { toEmail: parent } })).toBe(0);
  });
});

describe('a guardian out of a table', () => {
  async function withChild() {
    const here = await academy();
    const email = fresh();
    const text = tableOf(`Gail,${email},guardian,,Wren,${bornDay(10)}`);
    await inviteTable(here.ports, here.viewer, { batchId: uuid(), text });
    const { personId } = await acceptInvitation(here.ports, system, {
      token: await tokenFor(email),
      who: somebody({ hasConsented: true }),
    });
    const guardian = await viewerOf({ id: personId }, here.program);
    return { ...here, guardian };
  }
  const child = (name: string) => ({ id: uuid() as PersonId, name, birthDate: bornDay(10), bats: null });

  test('is asked for the child, which is there only once they add it', async () => {
    const { ports, guardian, program } = await withChild();
    const [expected] = await listExpectedChildren(guardian);
    expect(expected).toMatchObject({ name: 'Wren', birthDate: bornDay(10) });
    const where = { programId: program.id, role: 'player' as const };
    expect(await prisma.membership.count({ where })).toBe(0);
    const { invitationId } = expected!;
    await addChild(ports, guardian, { ...child('Wren'), hasConsented: true, invitationId });
    expect(await listExpectedChildren(guardian)).toEqual([]);
    expect(await prisma.membership.count({ where })).toBe(1);
    expect(await prisma.invitation.findUnique({ where: { id: invitationId } })).toMatchObject({
      childName: null,
      childBirthDate: null,
    });
  });

  test('may say that it is not theirs, and nothing of it is kept', async () => {
    const { guardian } = await withChild();
    const [expected] = await listExpectedChildren(guardian);
    await declineChild(guardian, expected!);
    expect(await listExpectedChildren(guardian)).toEqual([]);
  });

  test('is nobody else’s to answer for', async () => {
    const { guardian, program } = await withChild();
    const [expected] = await listExpectedChildren(guardian);
    const other = await viewerOf(await buildGuardian(program, []), program);
    expect(await listExpectedChildren(other)).toEqual([]);
    await expect(declineChild(other, expected!)).rejects.toMatchObject({ fault: 'not-found' });
    expect(await listExpectedChildren(guardian)).toHaveLength(1);
  });
});
