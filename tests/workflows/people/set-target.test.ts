import { v7 as uuid } from 'uuid';
import { expect, test } from 'vitest';
import { prisma } from '@/lib/data/client';
import { listTargets } from '@/lib/data/targets.read';
import { targetsNow } from '@/lib/domain/measures/target';
import type { PersonId } from '@/lib/domain/shared/ids';
import { setTarget } from '@/lib/workflows/set-target';
import { academy } from '../lessons/academy';

const openness = { measure: 'stride-foot-openness' as const, low: null };

test('a player’s own target holds before the template, from the day it was set; the old one is kept as ended', async () => {
  const { as, ports, people } = await academy();
  const playerId = people.player.id as PersonId;
  await setTarget(ports, as.coach, { playerId: null, ...openness, high: 50 });
  await setTarget(ports, as.coach, { playerId, ...openness, high: 45 });
  await setTarget(ports, as.coach2, { playerId, ...openness, high: 40 });
  const all = await listTargets(as.player, playerId);
  expect(all.map(({ high, isOwn, endedAt }) => [high, isOwn, endedAt !== null])).toEqual([
    [50, false, false],
    [45, true, true],
    [40, true, false],
  ]);
  expect(targetsNow(all).get('stride-foot-openness')).toMatchObject({
    high: 40,
    isOwn: true,
    setAt: ports.clock.now(),
  });
  await setTarget(ports, as.coach, { playerId, ...openness, high: null });
  expect(targetsNow(await listTargets(as.player, playerId)).get('stride-foot-openness')?.high).toBe(50);
  const audit = await prisma.auditEntry.findMany({
    where: { action: 'target.set', subject: `person:${playerId}` },
  });
  expect(audit).toHaveLength(3);
});

test('only staff set targets, and only for players of their program', async () => {
  const { as, ports, people } = await academy();
  const elsewhere = await academy();
  const attempt = (viewer: typeof as.coach, playerId: PersonId | null) =>
    setTarget(ports, viewer, { playerId, ...openness, high: 45 });
  const playerId = people.player.id as PersonId;
  await expect(attempt(as.player, playerId)).rejects.toMatchObject({ fault: 'not-found' });
  await expect(attempt(as.guardian, null)).rejects.toMatchObject({ fault: 'not-found' });
  await expect(attempt(elsewhere.as.coach, playerId)).rejects.toMatchObject({ fault: 'not-found' });
  await expect(attempt(as.coach, uuid() as PersonId)).rejects.toMatchObject({ fault: 'not-found' });
  expect(await listTargets(as.coach, playerId)).toEqual([]);
});

test.each([
  [{ low: 50, high: 45 }, /lower limit lies above/],
  [{ low: null, high: 1e9 }, /between -2000 and 2000/],
  [{ low: NaN, high: null }, /number/],
])('refuses %j and says that nothing changed', async (limits, words) => {
  const { as, ports, people } = await academy();
  const playerId = people.player.id as PersonId;
  const attempt = setTarget(ports, as.coach, { playerId, ...openness, ...limits });
  await expect(attempt).rejects.toThrow(words);
  await expect(attempt).rejects.toMatchObject({ fault: 'invalid', message: /as it was/ });
});
