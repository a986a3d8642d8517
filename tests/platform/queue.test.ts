import { randomUUID } from 'node:crypto';
import type PgBoss from 'pg-boss';
import { afterAll, beforeAll, beforeEach, describe, expect, test } from 'vitest';
import { asSystem } from '@/lib/auth/system';
import { transaction } from '@/lib/data/transaction';
import { connectQueue, createQueue, type PrepareClipJob, QUEUES } from '@/lib/platform/queue';
import type { Log, Queue } from '@/lib/workflows/ports';

const worker = asSystem('worker');
const faults: unknown[] = [];
const log: Log = { info: () => {}, warn: () => {}, error: (facts) => faults.push(facts) };

let boss: PgBoss;
let queue: Queue;
beforeAll(async () => {
  const databaseUrl = process.env.DATABASE_URL ?? '';
  boss = await connectQueue({ databaseUrl, isWorker: false, log });
  queue = createQueue(() => Promise.resolve(boss));
});
beforeEach(() => boss.clearStorage());
afterAll(async () => {
  await boss.stop({ graceful: false, wait: true });
  expect(faults).toEqual([]);
});

const take = async () =>
  (await boss.fetch<PrepareClipJob>(QUEUES.prepareClip, { batchSize: 50 })).map((job) => job.data.clipId);

describe('asking for a clip to be prepared', () => {
  test('reaches the worker', async () => {
    const clipId = randomUUID();
    await queue.prepareClip(clipId);
    expect(await take()).toEqual([clipId]);
  });

  test('stands with the transaction of its cause', async () => {
    const clipId = randomUUID();
    await transaction(worker, async (tx) => {
      await queue.prepareClip(clipId, tx);
      expect(await boss.getQueueSize(QUEUES.prepareClip)).toBe(0); // nobody else sees it yet
    });
    expect(await take()).toEqual([clipId]);
  });

  test('falls with the transaction of its cause', async () => {
    const failing = transaction(worker, async (tx) => {
      await queue.prepareClip(randomUUID(), tx);
      throw new Error('the cause did not happen');
    });
    await expect(failing).rejects.toThrow('the cause did not happen');
    expect(await take()).toEqual([]);
  });

  test('twice for the same clip is one job, for two clips two', async () => {
    const [first, second] = [randomUUID(), randomUUID()];
    await queue.prepareClip(first);
    await transaction(worker, (tx) => queue.prepareClip(first, tx));
    await queue.prepareClip(second);
    expect((await take()).sort()).toEqual([first, second].sort());
  });

  test('again after it failed is tried later, with growing pauses', async () => {
    await queue.prepareClip(randomUUID());
    const [job] = await boss.fetch<PrepareClipJob>(QUEUES.prepareClip, { includeMetadata: true });
    if (!job) throw new Error('no job');
    expect(job).toMatchObject({ retryLimit: 4, retryBackoff: true });
    await boss.fail(QUEUES.prepareClip, job.id, { why: 'the engine was ended' });
    const later = await boss.getJobById(QUEUES.prepareClip, job.id);
    expect(later?.state).toBe('retry');
    expect(later?.startAfter.getTime()).toBeGreaterThan(Date.now());
  });

  test('with something that is no transaction is refused', async () => {
    await expect(queue.prepareClip(randomUUID(), {})).rejects.toThrow(/no transaction/);
  });
});

test('asking for the outbox to be emptied, however often, is one job', async () => {
  await queue.drainOutbox();
  await transaction(worker, (tx) => queue.drainOutbox(tx));
  expect(await boss.getQueueSize(QUEUES.drainOutbox)).toBe(1);
});

test('a queue that could not be reached is tried again at the next request', async () => {
  let tries = 0;
  const late = createQueue(() =>
    ++tries === 1 ? Promise.reject(new Error('not yet')) : Promise.resolve(boss),
  );
  await expect(late.drainOutbox()).rejects.toThrow('not yet');
  await late.drainOutbox();
  expect(tries).toBe(2);
});
