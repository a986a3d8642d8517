import { v7 as uuid } from 'uuid';
import { describe, expect, test } from 'vitest';
import { asSystem } from '@/lib/auth/system';
import { prisma } from '@/lib/data/client';
import type { Day } from '@/lib/domain/people/age';
import type { PersonId } from '@/lib/domain/shared/ids';
import { acceptInvitation } from '@/lib/workflows/accept-invitation';
import { addChild } from '@/lib/workflows/add-child';
import { changeStaffRole } from '@/lib/workflows/change-staff-role';
import { confirmGuardian } from '@/lib/workflows/confirm-guardian';
import { pauseContact } from '@/lib/workflows/pause-contact';
import { replyInThread } from '@/lib/workflows/reply-in-thread';
import {
  bornAged,
  buildCoach,
  buildGuardian,
  buildInvitation,
  buildLead,
  buildLesson,
  buildPlayer,
  buildProgram,
} from '../../support/build';
import { fakePorts } from '../../support/fake-ports';
import { viewerOf } from '../../support/viewers';

const ports = fakePorts();

async function academyWith(age: number) {
  const program = await buildProgram();
  const lead = await buildLead(program);
  const coach = await buildCoach(program);
  const player = await buildPlayer(program, { age });
  const lesson = await buildLesson(program, player, { state: 'returned', coachId: coach.id });
  const write = async (person: { id: string }) =>
    replyInThread(ports, await viewerOf(person, program), {
      id: uuid(),
      lessonId: lesson.id,
      body: 'Good swing.',
      at: null,
    });
  return { program, lead, coach, player, lesson, write };
}

describe('writing to a minor', () => {
  test('is closed to coach and lead until a verified guardian stands on the thread', async () => {
    const { program, lead, coach, player, write } = await academyWith(15);
    for (const person of [coach, lead])
      await expect(write(person)).rejects.toMatchObject({ fault: 'safeguarding' });
    await write(player);
    const { token } = await buildInvitation(program, lead, { role: 'guardian', playerId: player.id });
    await acceptInvitation(ports, asSystem('sign-in'), {
      token,
      who: {
        kind: 'new',
        name: 'Pat Sample',
        password: 'a long enough one',
        birthDate: null,
        hasConsented: true,
      },
    });
    await write(coach);
  });

  test('a guardian whom the minor named counts only once a lead has confirmed it', async () => {
    const { program, lead, coach, player, write } = await academyWith(15);
    const { token } = await buildInvitation(program, player, { role: 'guardian', playerId: player.id });
    const { personId } = await acceptInvitation(ports, asSystem('sign-in'), {
      token,
      who: {
        kind: 'new',
        name: 'Pat Sample',
        password: 'a long enough one',
        birthDate: null,
        hasConsented: true,
      },
    });
    await expect(write(coach)).rejects.toMatchObject({ fault: 'safeguarding' });
    const pair = { guardianId: personId, playerId: player.id };
    expect((await viewerOf({ id: personId }, program)).wards).toEqual([]);
    await expect(confirmGuardian(ports, await viewerOf(coach, program), pair)).rejects.toMatchObject({
      fault: 'not-found',
    });
    await confirmGuardian(ports, await viewerOf(lead, program), pair);
    expect((await viewerOf({ id: personId }, program)).wards).toEqual([player.id]);
    await write(coach);
  });

  test('stops at once when one of two guardians pauses, and goes on when the pause is taken back', async () => {
    const { program, coach, player, write } = await academyWith(11);
    const [one, two] = [await buildGuardian(program, [player]), await buildGuardian(program, [player])];
    await write(coach);
    await pauseContact(ports, await viewerOf(one, program), { playerId: player.id, isPaused: true });
    await expect(write(coach)).rejects.toMatchObject({ fault: 'safeguarding' });
    await write(two);
    await pauseContact(ports, await viewerOf(one, program), { playerId: player.id, isPaused: false });
    await write(coach);
    const actions = await prisma.auditEntry.findMany({
      where: { programId: program.id, subject: `person:${player.id}` },
    });
    expect(actions.map((entry) => entry.action).sort()).toEqual(['contact.paused', 'contact.resumed']);
  });

  test('nobody but a guardian pauses', async () => {
    const { program, coach, player } = await academyWith(15);
    for (const person of [coach, player]) {
      const viewer = await viewerOf(person, program);
      await expect(
        pauseContact(ports, viewer, { playerId: player.id, isPaused: true }),
      ).rejects.toMatchObject({ fault: 'not-found' });
    }
  });

  test('an adult needs nobody', async () => {
    const { coach, write } = await academyWith(18);
    await write(coach);
  });
});

describe('a child whose profile a guardian holds', () => {
  const child = (age: number, over: object = {}) => ({
    id: uuid() as PersonId,
    name: 'Sam Sample',
    birthDate: bornAged(age).toISOString().slice(0, 10) as Day,
    bats: 'left' as const,
    hasConsented: true,
    ...over,
  });

  test('has no way to sign in, a thread, and a recorded consent; sent twice it is there once', async () => {
    const program = await buildProgram();
    const guardian = await buildGuardian(program, []);
    const viewer = await viewerOf(guardian, program);
    const sam = child(9);
    await addChild(ports, viewer, sam);
    await addChild(ports, viewer, sam);
    const kept = await prisma.person.findUniqueOrThrow({
      where: { id: sam.id },
      include: { threads: true, guardians: true, memberships: true },
    });
    expect(kept).toMatchObject({ email: null, passwordHash: null, bats: 'left' });
    expect(kept.threads).toHaveLength(1);
    expect(kept.guardians).toMatchObject([
      { guardianId: guardian.id, consentMethod: 'added-child', verifiedAt: expect.any(Date) },
    ]);
    expect((await viewerOf(guardian, program)).wards).toEqual([sam.id]);
    const audit = await prisma.auditEntry.findMany({ where: { programId: program.id } });
    expect(audit).toHaveLength(1);
    expect(JSON.stringify(audit)).not.toContain('Sam Sample');
  });

  test.each([
    ['grown up', child(18), 'invalid'],
    ['not born yet', child(3, { birthDate: '2999-01-01' }), 'invalid'],
    ['without consent', child(9, { hasConsented: false }), 'invalid'],
  ])('%s is refused', async (_what, sam, fault) => {
    const program = await buildProgram();
    const viewer = await viewerOf(await buildGuardian(program, []), program);
    await expect(addChild(ports, viewer, sam)).rejects.toMatchObject({ fault });
    expect(await prisma.person.count({ where: { id: sam.id } })).toBe(0);
  });

  test('is out of sight for the guardian from the eighteenth birthday on', async () => {
    const { program, player } = await academyWith(17);
    const guardian = await buildGuardian(program, [player]);
    expect((await viewerOf(guardian, program)).wards).toEqual([player.id]);
    await prisma.person.update({ where: { id: player.id }, data: { birthDate: bornAged(18) } });
    expect((await viewerOf(guardian, program)).wards).toEqual([]);
  });
});

describe('staff roles', () => {
  test('a program keeps a lead, even when two take the role from each other at once', async () => {
    const program = await buildProgram();
    const [one, two] = [await buildLead(program), await buildLead(program)];
    const [first, second] = [await viewerOf(one, program), await viewerOf(two, program)];
    const done = await Promise.allSettled([
      changeStaffRole(first, { personId: two.id, role: 'lead', isOn: false }),
      changeStaffRole(second, { personId: one.id, role: 'lead', isOn: false }),
    ]);
    expect(done.filter((outcome) => outcome.status === 'fulfilled')).toHaveLength(1);
    expect(await prisma.membership.count({ where: { programId: program.id, role: 'lead' } })).toBe(1);
  });
});
