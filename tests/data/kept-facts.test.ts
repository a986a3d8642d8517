import { describe, expect, test } from 'vitest';
import { listMonths } from '@/lib/data/books.read';
import { prisma } from '@/lib/data/client';
import { listCare, readDesk } from '@/lib/data/desk.read';
import { listPlayers } from '@/lib/data/players.read';
import { findPlayers } from '@/lib/data/search.read';
import { careReasons } from '@/lib/domain/desk/care';
import { dayIn } from '@/lib/domain/people/age';
import {
  buildGuardian,
  buildLead,
  buildLedgerEntry,
  buildLesson,
  buildPlayer,
  buildProgram,
} from '../support/build';
import { buildConsent } from '../support/build-care';
import { viewerOf } from '../support/viewers';

// What the database keeps beside the rows, so that no page adds up or asks a whole program anew, against the rows.

const DAY = 86_400_000;
const now = new Date();
const later = (minutes: number) => new Date(now.getTime() + minutes * 60_000);

describe('totals by month', () => {
  const world = async () => {
    const program = await buildProgram({ timeZone: 'America/Chicago' });
    const lead = await buildLead(program);
    const player = await buildPlayer(program, { age: 20 });
    const lesson = await buildLesson(program, player, { state: 'returned' });
    // 04:30 UTC on the first of a month is still the month before in Chicago (UTC-5 in May).
    const at = new Date('2026-05-01T04:30:00Z');
    await buildLedgerEntry(lesson, lead, { at });
    await buildLedgerEntry(lesson, lead, { kind: 'payment', amountMinor: 2000, at });
    const later = new Date('2026-05-20T12:00:00Z');
    await buildLedgerEntry(lesson, lead, { kind: 'waiver', amountMinor: 500, reason: 'Late', at: later });
    return { program, lead: await viewerOf(lead, program) };
  };
  const nothing = { chargedMinor: 0, receivedMinor: 0, waivedMinor: 0, refundedMinor: 0, packedMinor: 0 };
  const april = { ...nothing, currency: 'USD', chargedMinor: 4500, receivedMinor: 2000 };

  test('are counted in the calendar of the program, and counted anew when it moves to another zone', async () => {
    const { program, lead } = await world();
    expect((await listMonths(lead)).rows).toEqual([
      { ...nothing, currency: 'USD', month: '2026-05', waivedMinor: 500 },
      { ...april, month: '2026-04' },
    ]);
    await prisma.program.update({ where: { id: program.id }, data: { timeZone: 'Europe/Paris' } });
    expect((await listMonths(lead)).rows).toEqual([{ ...april, month: '2026-05', waivedMinor: 500 }]);
  });
  test('all pages together are every month once, the latest first', async () => {
    const { lead } = await world();
    const first = await listMonths(lead, { take: 1 });
    const second = await listMonths(lead, { take: 1, after: first.next });
    expect([...first.rows, ...second.rows].map(({ month }) => month)).toEqual(['2026-05', '2026-04']);
    expect(second.next).toBeNull();
  });
  test('cannot be written by hand', async () => {
    const { program } = await world();
    const where = { programId: program.id };
    const before = await prisma.monthTotal.findMany({ where });
    await expect(prisma.monthTotal.updateMany({ where, data: { chargedMinor: 1 } })).rejects.toThrow();
    await expect(prisma.monthTotal.deleteMany({ where })).rejects.toThrow();
    expect(await prisma.monthTotal.findMany({ where })).toEqual(before);
  });
  test('hold when many record money at once', async () => {
    const program = await buildProgram();
    const lead = await buildLead(program);
    const player = await buildPlayer(program, { age: 20 });
    const lessons = [];
    for (let n = 0; n < 12; n += 1) lessons.push(await buildLesson(program, player, { state: 'returned' }));
    await Promise.all(lessons.map((lesson) => buildLedgerEntry(lesson, lead)));
    const { rows } = await listMonths(await viewerOf(lead, program));
    expect(rows.map(({ chargedMinor }) => chargedMinor)).toEqual([12 * 4500]);
  });
});

type World = { program: { id: string }; child: { id: string }; guardian: { id: string } };
const guardianship = ({ child, guardian }: World) => ({
  guardianId_playerId: { guardianId: guardian.id, playerId: child.id },
});
const consent = ({ program, child, guardian }: World, facts: Parameters<typeof buildConsent>[3]) =>
  buildConsent(program, child, guardian, facts);

describe('what needs care is listed, and is what each row says itself', () => {
  test.each<[string, boolean, (world: World) => Promise<unknown>]>([
    ['a guardian who consented', false, async () => {}],
    ['no guardian any more', true, (world) => prisma.guardianship.delete({ where: guardianship(world) })],
    [
      'a guardian who is not confirmed',
      true,
      (world) => prisma.guardianship.update({ where: guardianship(world), data: { verifiedAt: null } }),
    ],
    [
      'contact paused',
      true,
      (world) => prisma.guardianship.update({ where: guardianship(world), data: { pausedAt: now } }),
    ],
    [
      'contact paused and taken up again',
      false,
      async (world) => {
        const where = guardianship(world);
        await prisma.guardianship.update({ where, data: { pausedAt: now } });
        await prisma.guardianship.update({ where, data: { pausedAt: null } });
      },
    ],
    [
      'the consent withdrawn',
      true,
      (world) =>
        prisma.consent.updateMany({ where: { playerId: world.child.id }, data: { withdrawnAt: now } }),
    ],
    [
      'the consent run out',
      true,
      (world) =>
        consent(world, {
          givenAt: later(1),
          expiresAt: new Date(now.getTime() - 3 * DAY),
        }),
    ],
    [
      'run out and given again',
      false,
      async (world) => {
        const past = new Date(now.getTime() - 3 * DAY);
        await consent(world, { givenAt: later(1), expiresAt: past });
        await consent(world, { givenAt: later(2) });
      },
    ],
    [
      'a second guardian whose consent holds, the first one’s run out',
      false,
      async (world) => {
        await consent(world, { givenAt: later(1), expiresAt: new Date(0) });
        await buildGuardian(world.program, [world.child]);
      },
    ],
  ])('%s', async (_what, needsCare, change) => {
    const program = await buildProgram();
    const lead = await viewerOf(await buildLead(program), program);
    const child = await buildPlayer(program, { age: 12 });
    const guardian = await buildGuardian(program, [child]);
    const lesson = await buildLesson(program, child, {});
    await change({ program, child, guardian });
    expect(await listCare(lead, now)).toEqual(needsCare ? [lesson.id] : []);
    const [row] = (await readDesk(lead, { filter: 'all', now })).rows;
    const said = careReasons({ ...row!, birthDate: row!.player.birthDate }, dayIn(program.timeZone, now));
    expect(said.length > 0).toBe(needsCare);
  });
});

test('a name that changes is listed and found by the new one', async () => {
  const program = await buildProgram();
  const lead = await viewerOf(await buildLead(program), program);
  const player = await buildPlayer(program, { name: 'Wren Atwood' });
  await buildPlayer(program, { name: 'Milo Birk' });
  await prisma.person.update({ where: { id: player.id }, data: { name: 'Wren Zabel' } });
  expect((await listPlayers(lead)).rows.map(({ name }) => name)).toEqual(['Milo Birk', 'Wren Zabel']);
  expect((await findPlayers(lead, 'atw')).rows).toEqual([]);
  expect((await findPlayers(lead, 'zab')).rows.map(({ name }) => name)).toEqual(['Wren Zabel']);
});
