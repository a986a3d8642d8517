import { afterEach, expect, test, vi } from 'vitest';
import { asSystem } from '@/lib/auth/system';
import { prisma } from '@/lib/data/client';
import { recordBeat } from '@/lib/data/health.system';
import { checkHealth } from '@/lib/workflows/check-health';

const system = asSystem('health');
const NOW = new Date('2026-04-01T18:00:00Z');
const secondsAgo = (seconds: number) => new Date(NOW.getTime() - seconds * 1000);

const portsOf = (
  parts: { size?: () => Promise<number | null>; isQueueUp?: () => Promise<boolean> } = {},
) => ({
  clock: { now: () => NOW },
  log: { info: vi.fn(), warn: vi.fn(), error: vi.fn() },
  storage: { size: parts.size ?? (() => Promise.resolve(null)) } as unknown as Parameters<
    typeof checkHealth
  >[1]['storage'],
  isQueueUp: parts.isQueueUp ?? (() => Promise.resolve(true)),
});
const beat = (at: Date) => recordBeat(system, { id: 'here/1', version: '1', at, jobs: [] });

afterEach(async () => {
  vi.useRealTimers();
  await prisma.workerBeat.deleteMany();
});

test('everything is up when every part answers and the worker spoke lately', async () => {
  await beat(secondsAgo(12));
  const up = { database: 'up', storage: 'up', queue: 'up', worker: 'up' };
  expect(await checkHealth(system, portsOf())).toEqual(up);
});

test.each([
  ['it never spoke', null],
  ['it has been silent for long', secondsAgo(31)],
])('the worker is down when %s', async (_, at) => {
  if (at) await beat(at);
  expect(await checkHealth(system, portsOf())).toMatchObject({ database: 'up', worker: 'down' });
});

test('a part that fails is down, the log says why, and the others are still asked', async () => {
  await beat(NOW);
  const ports = portsOf({ size: () => Promise.reject(new Error('no disk')) });
  expect(await checkHealth(system, ports)).toEqual({
    database: 'up',
    storage: 'down',
    queue: 'up',
    worker: 'up',
  });
  expect(ports.log.warn).toHaveBeenCalledWith(expect.objectContaining({ part: 'storage' }), 'a part is down');
});

test('a part that says no is down', async () => {
  expect(await checkHealth(system, portsOf({ isQueueUp: () => Promise.resolve(false) }))).toMatchObject({
    queue: 'down',
  });
});

test('a part that does not answer is not waited for', async () => {
  vi.useFakeTimers({ toFake: ['setTimeout', 'clearTimeout'] });
  const asked = checkHealth(system, portsOf({ isQueueUp: () => new Promise(() => {}) }));
  await vi.advanceTimersByTimeAsync(3000);
  vi.useRealTimers();
  expect(await asked).toMatchObject({ queue: 'down' });
});
