import { addDays, subYears } from 'date-fns';
import { describe, expect, test } from 'vitest';
import { asSystem } from '@/lib/auth/system';
import { prisma } from '@/lib/data/client';
import { dateOfDay, dayIn, dayOfDate, type Day } from '@/lib/domain/people/age';
import { turnAges } from '@/lib/workflows/turn-ages';
import { buildGuardian, buildLead, buildPlayer, buildProgram } from '../../support/build';
import { fakePorts } from '../../support/fake-ports';
import { viewerOf } from '../../support/viewers';

const system = asSystem('worker');
const ZONE = 'America/Chicago';
/** Somebody who turns `age` so many days from now, in the program's zone. */
const turning = (age: number, inDays: number): Day => {
  const today = dateOfDay(dayIn(ZONE, new Date()));
  return dayOfDate(subYears(addDays(today, inDays), age));
};

async function family(age: number, inDays: number) {
  const program = await buildProgram({ timeZone: ZONE });
  const lead = await buildLead(program);
  const player = await buildPlayer(program, { birthDate: dateOfDay(turning(age, inDays)) });
  const guardian = await buildGuardian(program, [player]);
  const mails = async () =>
    (
      await prisma.outboxMail.findMany({
        where: { kind: 'age-turned', data: { path: ['path'], equals: `/players/${player.id}` } },
        orderBy: { toEmail: 'asc' },
      })
    ).map((mail) => mail.toEmail);
  return { program, lead, player, guardian, mails };
}

describe.each([13, 18])('turning %d', (age) => {
  test('is told to the player, the guardian and the lead on the day, once', async () => {
    const { lead, player, guardian, mails } = await family(age, 0);
    const ports = fakePorts();
    await Promise.all([turnAges(ports, system), turnAges(ports, system)]);
    await turnAges(ports, system);
    expect(await mails()).toEqual([lead.email, player.email, guardian.email].sort());
    const lines = await prisma.auditEntry.findMany({ where: { subject: `person:${player.id}` } });
    expect(lines.map((line) => line.action)).toEqual([`age.turned-${age}`]);
    expect(ports.jobs).toContain('drain');
  });

  test('is not told the day before, nor weeks later', async () => {
    const [early, late] = [await family(age, 1), await family(age, -20)];
    await turnAges(fakePorts(), system);
    expect([...(await early.mails()), ...(await late.mails())]).toEqual([]);
  });

  test('is still told when the worker stood still for some days', async () => {
    const { mails } = await family(age, -4);
    await turnAges(fakePorts(), system);
    expect(await mails()).toHaveLength(3);
  });

  test('waits for the morning in the quiet hours', async () => {
    const { player } = await family(age, 0);
    const today = dayIn(ZONE, new Date());
    const night = new Date(`${today}T12:00:00Z`);
    night.setUTCHours(9, 30); // 3:30 or 4:30 at night in Chicago
    await turnAges(fakePorts(night), system);
    const mails = await prisma.outboxMail.findMany({
      where: { kind: 'age-turned', data: { path: ['path'], equals: `/players/${player.id}` } },
    });
    expect(mails.length).toBeGreaterThan(0);
    for (const { notBefore } of mails) expect([13, 14]).toContain(notBefore.getUTCHours());
  });
});

test('on the eighteenth birthday the lessons are the player’s alone, whether it was told or not', async () => {
  const today = await family(18, 0);
  const tomorrow = await family(18, 1);
  expect((await viewerOf(today.guardian, today.program)).wards).toEqual([]);
  expect((await viewerOf(tomorrow.guardian, tomorrow.program)).wards).toEqual([tomorrow.player.id]);
});
