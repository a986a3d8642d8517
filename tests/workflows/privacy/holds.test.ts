import { v7 as uuid } from 'uuid';
import { afterEach, beforeEach, describe, expect, test } from 'vitest';
import { prisma } from '@/lib/data/client';
import { DEFAULT_DEADLINES, RETENTION } from '@/lib/domain/privacy/retention';
import { keepDeadlines } from '@/lib/workflows/keep-deadlines';
import { placeHold } from '@/lib/workflows/place-hold';
import { setDeadlines } from '@/lib/workflows/set-deadlines';
import { buildHold } from '../../support/build-privacy';
import { viewerOf } from '../../support/viewers';
import { inDays, openHousehold, system } from './household';

let home: Awaited<ReturnType<typeof openHousehold>>;
beforeEach(async () => {
  home = await openHousehold();
});
afterEach(() => home.close());

const night = (days: number) => keepDeadlines(home.at(inDays(days)), system);
const QUIET = DEFAULT_DEADLINES['quiet-players'];

describe('a legal hold', () => {
  test('keeps everything of its player, and of nobody else', async () => {
    await buildHold(home.program, home.player, home.lead);
    const before = await home.keysOf(home.clip, home.breakdown);
    await night(QUIET + 1);
    expect(await home.keysOf(home.clip, home.breakdown)).toEqual(before);
    expect(await home.keysOf(home.siblingClip)).toEqual([]);
    expect(await prisma.checkIn.count({ where: { assignmentId: String(home.assignment.id) } })).toBe(1);
    const document = await prisma.billingDocument.findUniqueOrThrow({ where: { id: home.document.id } });
    expect(document.facts).toMatchObject({ payerName: 'Marta Sample' });
    expect(await prisma.auditEntry.count({ where: { subject: `person:${home.player.id}` } })).toBeGreaterThan(
      0,
    );
  });

  test('lets go once it is ended', async () => {
    await buildHold(home.program, home.player, home.lead, { endedAt: new Date(), endedById: home.lead.id });
    await night(QUIET + 1);
    expect(await home.keysOf(home.clip, home.breakdown)).toEqual([]);
  });

  test('that is placed twice stands once, and is in the audit', async () => {
    const lead = await viewerOf(home.lead, home.program);
    const hold = { playerId: home.player.id, reason: 'A letter of a lawyer came.' };
    await placeHold(home.ports, lead, { ...hold, id: uuid() });
    await placeHold(home.ports, lead, { ...hold, id: uuid() });
    expect(await prisma.legalHold.count({ where: { playerId: home.player.id, endedAt: null } })).toBe(1);
    const lines = await prisma.auditEntry.findMany({ where: { action: 'hold.placed' } });
    expect(lines.filter((line) => line.subject === `person:${home.player.id}`)).toHaveLength(1);
  });

  test('needs a reason', async () => {
    const lead = await viewerOf(home.lead, home.program);
    await expect(
      placeHold(home.ports, lead, { id: uuid(), playerId: home.player.id, reason: ' ' }),
    ).rejects.toMatchObject({ fault: 'invalid' });
  });
});

describe('a lead sets the deadlines', () => {
  test('and they hold from the next night on', async () => {
    const lead = await viewerOf(home.lead, home.program);
    await setDeadlines(lead, { ...DEFAULT_DEADLINES, originals: 7 });
    await night(8);
    expect(await home.keysOf(home.clip)).not.toContain(`clips/${home.clip.id}/original.mp4`);
    const line = await prisma.auditEntry.findFirstOrThrow({
      where: { programId: home.program.id, action: 'retention.set' },
    });
    expect(line.data).toEqual({ originals: 7 });
  });

  test.each(['money', 'safeguarding'] as const)('but %s not shorter than its bound', async (name) => {
    const lead = await viewerOf(home.lead, home.program);
    const tooShort = { ...DEFAULT_DEADLINES, [name]: RETENTION[name].min - 1 };
    await expect(setDeadlines(lead, tooShort)).rejects.toMatchObject({
      fault: 'invalid',
      forPeople: expect.stringContaining('Nothing was changed.') as string,
    });
  });

  test('and nobody else does', async () => {
    const coach = await viewerOf(home.coach, home.program);
    await expect(setDeadlines(coach, DEFAULT_DEADLINES)).rejects.toMatchObject({ fault: 'not-found' });
  });
});
