import { describe, expect, test } from 'vitest';
import { prisma } from '@/lib/data/client';
import { readCoachTerms } from '@/lib/data/hours.read';
import { readSendSetting } from '@/lib/data/lessons.read';
import { setHours } from '@/lib/workflows/set-hours';
import { setOwnHours } from '@/lib/workflows/set-own-hours';
import { officeHours } from '../../support/office-hours';
import { academy } from './academy';

// A Wednesday, 4 pm in Chicago; the next day is Thanksgiving (fourth Thursday of November, 5 U.S.C. 6103).
const start = new Date('2026-11-25T22:00:00Z');
const thanksgiving = { from: '2026-11-26', name: 'Thanksgiving' };

describe('the program’s hours', () => {
  test('from then on promises are counted in them; what was promised before keeps', async () => {
    const { as, ports, send } = await academy({ start });
    const before = await send();
    await setHours(ports, as.lead, officeHours(thanksgiving));
    const after = await send();
    // 48 working hours of eight a day: 1 left on Wednesday, 8 on Friday, 32 from Monday to Thursday, 7 on Friday.
    expect(after.promisedAt).toEqual(new Date('2026-12-04T22:00:00Z'));
    const kept = await prisma.lesson.findUniqueOrThrow({ where: { id: before.lessonId } });
    expect(kept.promisedAt).toEqual(new Date('2026-11-27T22:00:00Z'));
    expect(await prisma.auditEntry.count({ where: { action: 'hours.changed' } })).toBe(1);
  });

  test('the sending form knows them before anything is sent', async () => {
    const { as, people, ports } = await academy({ start });
    await setHours(ports, as.lead, officeHours(thanksgiving));
    const setting = await readSendSetting(as.player, people.player.id, ports.clock.now());
    expect(setting?.program.hours).toEqual(officeHours(thanksgiving));
  });

  test('taken back it is round the clock again', async () => {
    const { as, ports, send } = await academy({ start });
    await setHours(ports, as.lead, officeHours());
    await setHours(ports, as.lead, null);
    expect((await send()).promisedAt).toEqual(new Date('2026-11-27T22:00:00Z'));
  });

  test('so few of them that an answer takes months are refused, and nothing is changed', async () => {
    const { as, ports, program } = await academy({ start });
    const hour = { ...officeHours(), week: [[{ from: 540, to: 600 }], [], [], [], [], [], []] };
    await expect(setHours(ports, as.lead, hour)).rejects.toMatchObject({
      fault: 'invalid',
      forPeople: expect.stringContaining('Nothing was changed'),
    });
    expect((await prisma.program.findUniqueOrThrow({ where: { id: program.id } })).hours).toBeNull();
  });

  test.each(['coach', 'player', 'guardian'] as const)('a %s does not set them', async (who) => {
    const { as, ports } = await academy();
    await expect(setHours(ports, as[who], null)).rejects.toMatchObject({ fault: 'not-found' });
  });
});

describe('hours of one’s own', () => {
  test('are kept for the coach alone', async () => {
    const { as, people, ports } = await academy({ start });
    const own = {
      version: 1 as const,
      week: null,
      daysOff: officeHours({ from: '2026-12-01', name: 'Tournament' }).daysOff,
    };
    await setOwnHours(ports, as.coach, { hours: own, promiseHours: 24 });
    expect(await readCoachTerms(as.lead, people.coach.id)).toEqual({ hours: own, promiseHours: 24 });
    expect(await readCoachTerms(as.lead, people.coach2.id)).toEqual({ hours: null, promiseHours: null });
    await setOwnHours(ports, as.coach, { hours: null, promiseHours: null });
    expect(await readCoachTerms(as.coach, people.coach.id)).toEqual({ hours: null, promiseHours: null });
  });

  test('a promise longer than the program’s is refused', async () => {
    const { as, people, ports } = await academy({ start });
    await expect(setOwnHours(ports, as.coach, { hours: null, promiseHours: 49 })).rejects.toMatchObject({
      fault: 'invalid',
    });
    expect(await readCoachTerms(as.coach, people.coach.id)).toEqual({ hours: null, promiseHours: null });
  });

  test('players and guardians have none', async () => {
    const { as, ports } = await academy();
    for (const viewer of [as.player, as.guardian]) {
      await expect(setOwnHours(ports, viewer, { hours: null, promiseHours: 1 })).rejects.toMatchObject({
        fault: 'not-found',
      });
    }
  });
});
