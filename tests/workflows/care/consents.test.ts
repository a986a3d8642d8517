import { v7 as uuid } from 'uuid';
import { describe, expect, test } from 'vitest';
import { prisma } from '@/lib/data/client';
import { listConsents } from '@/lib/data/consents.read';
import { countDesk, readDesk } from '@/lib/data/desk.read';
import { careReasons } from '@/lib/domain/desk/care';
import { dayIn } from '@/lib/domain/people/age';
import type { PersonId } from '@/lib/domain/shared/ids';
import { addChild } from '@/lib/workflows/add-child';
import { changeConsent } from '@/lib/workflows/change-consent';
import { replyInThread } from '@/lib/workflows/reply-in-thread';
import { buildCoach, buildGuardian, buildLesson, buildPlayer, buildProgram } from '../../support/build';
import { buildConsent } from '../../support/build-care';
import { fakePorts } from '../../support/fake-ports';
import { viewerOf } from '../../support/viewers';

const YEAR = 366 * 24 * 3_600_000;

async function academy(age = 15) {
  const program = await buildProgram();
  const coach = await buildCoach(program);
  const player = await buildPlayer(program, { age });
  const lesson = await buildLesson(program, player, { state: 'in_review', coachId: coach.id });
  const ports = fakePorts();
  const write = async () =>
    replyInThread(ports, await viewerOf(coach, program), {
      id: uuid(),
      lessonId: lesson.id,
      body: 'Good swing.',
      at: null,
    });
  const reasons = async () => {
    const desk = await readDesk(await viewerOf(coach, program), { filter: 'care', now: ports.clock.now() });
    return desk.rows.flatMap((row) =>
      careReasons({ ...row, birthDate: row.player.birthDate }, dayIn(program.timeZone, ports.clock.now())),
    );
  };
  return { program, coach, player, lesson, ports, write, reasons };
}

describe('the consent to lessons', () => {
  test('taken back closes the thread for adults at once, and given again opens it', async () => {
    const { program, coach, player, ports, write, reasons } = await academy();
    const guardian = await viewerOf(await buildGuardian(program, [player]), program);
    await write();
    expect(await reasons()).toEqual([]);
    ports.later(1000);
    await changeConsent(ports, guardian, { playerId: player.id, scope: 'lessons', isGiven: false });
    await expect(write()).rejects.toMatchObject({
      fault: 'safeguarding',
      forPeople: expect.stringContaining('taken back their consent'),
    });
    expect(await reasons()).toEqual(['A guardian took back the consent to lessons. Cannot be returned']);
    expect((await countDesk(await viewerOf(coach, program), ports.clock.now())).care).toBe(1);
    ports.later(1000);
    await changeConsent(ports, guardian, { playerId: player.id, scope: 'lessons', isGiven: true });
    await write();
    expect(await reasons()).toEqual([]);
    const kept = await listConsents(guardian, player.id);
    expect(kept.map((one) => one.withdrawnAt === null)).toEqual([true, false]);
    const lines = await prisma.auditEntry.findMany({
      where: { subject: `person:${player.id}` },
      orderBy: { at: 'asc' },
    });
    expect(lines.map((line) => line.action)).toEqual(['consent.withdrawn', 'consent.given']);
  });

  test('holds for a year; after it the desk says so and writing waits', async () => {
    const { program, player, ports, write, reasons } = await academy();
    await buildGuardian(program, [player]);
    ports.later(YEAR);
    await expect(write()).rejects.toMatchObject({
      fault: 'safeguarding',
      forPeople: expect.stringContaining('run out'),
    });
    expect(await reasons()).toEqual(['The consent to lessons has run out. Cannot be returned']);
  });

  test('one guardian who took it back counts for both', async () => {
    const { program, player, ports, write, reasons } = await academy();
    const [one, two] = [await buildGuardian(program, [player]), await buildGuardian(program, [player])];
    ports.later(1000);
    await changeConsent(ports, await viewerOf(one, program), {
      playerId: player.id,
      scope: 'lessons',
      isGiven: false,
    });
    await changeConsent(ports, await viewerOf(two, program), {
      playerId: player.id,
      scope: 'lessons',
      isGiven: true,
    });
    await expect(write()).rejects.toMatchObject({ fault: 'safeguarding' });
    expect(await reasons()).toHaveLength(1);
  });

  test('of another program opens nothing here', async () => {
    const { program, player, write } = await academy();
    const other = await buildProgram();
    const guardian = await buildGuardian(program, [player], { isVerified: false });
    await prisma.guardianship.updateMany({
      where: { guardianId: guardian.id },
      data: { verifiedAt: new Date() },
    });
    await buildConsent(other, player, guardian);
    await expect(write()).rejects.toMatchObject({ fault: 'safeguarding' });
  });

  test('is written down when a child is added', async () => {
    const { program, ports } = await academy();
    const guardian = await viewerOf(await buildGuardian(program, []), program);
    const id = uuid() as PersonId;
    await addChild(ports, guardian, {
      id,
      name: 'Wren Sample',
      birthDate: '2017-05-05' as never,
      bats: null,
      hasConsented: true,
    });
    const seen = await viewerOf({ id: guardian.personId }, program);
    expect(await listConsents(seen, id)).toMatchObject([
      { scope: 'lessons', method: 'added-child', byId: guardian.personId, withdrawnAt: null },
    ]);
  });
});

describe('the choices', () => {
  test('are off until given; each stands alone; a refusal is kept', async () => {
    const { program, player, ports, write } = await academy();
    const guardian = await viewerOf(await buildGuardian(program, [player]), program);
    const scopes = async () =>
      (await listConsents(guardian, player.id)).filter((one) => !one.withdrawnAt).map((one) => one.scope);
    expect(await scopes()).toEqual(['lessons']);
    ports.later(1000);
    await changeConsent(ports, guardian, { playerId: player.id, scope: 'share', isGiven: true });
    expect(await scopes()).toEqual(['share', 'lessons']);
    await changeConsent(ports, guardian, { playerId: player.id, scope: 'training', isGiven: false });
    expect(await scopes()).toEqual(['share', 'lessons']);
    expect(await listConsents(guardian, player.id)).toHaveLength(3);
    await write();
  });

  test('are given by guardians of a minor and by nobody else', async () => {
    const { program, coach, player, ports } = await academy();
    await buildGuardian(program, [player]);
    const stranger = await buildGuardian(program, [await buildPlayer(program, { age: 12 })]);
    for (const person of [coach, player, stranger]) {
      const viewer = await viewerOf(person, program);
      for (const isGiven of [true, false]) {
        await expect(
          changeConsent(ports, viewer, { playerId: player.id, scope: 'share', isGiven }),
        ).rejects.toMatchObject({ fault: 'not-found' });
      }
    }
  });

  test('are the player’s own from 18 on', async () => {
    const { program, player, ports } = await academy(18);
    const guardian = await viewerOf(await buildGuardian(program, [player]), program);
    await changeConsent(ports, await viewerOf(player, program), {
      playerId: player.id,
      scope: 'share',
      isGiven: true,
    });
    await expect(
      changeConsent(ports, guardian, { playerId: player.id, scope: 'share', isGiven: false }),
    ).rejects.toMatchObject({ fault: 'not-found' });
  });
});

test('nothing of a consent is edited but its end, and that once', async () => {
  const { program, player } = await academy();
  const guardian = await buildGuardian(program, [player]);
  const [one] = await prisma.consent.findMany({ where: { byId: guardian.id } });
  const { id } = one!;
  const refused = 'keeps its history';
  const later = new Date('2040-01-01');
  await expect(
    prisma.$executeRaw`UPDATE "Consent" SET "expiresAt" = ${later} WHERE id = ${id}::uuid`,
  ).rejects.toThrow(refused);
  await expect(prisma.$executeRaw`DELETE FROM "Consent" WHERE id = ${id}::uuid`).rejects.toThrow(refused);
  await prisma.consent.update({ where: { id }, data: { withdrawnAt: new Date() } });
  await expect(
    prisma.$executeRaw`UPDATE "Consent" SET "withdrawnAt" = NULL WHERE id = ${id}::uuid`,
  ).rejects.toThrow(refused);
});
