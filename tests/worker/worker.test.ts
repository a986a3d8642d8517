import { randomUUID } from 'node:crypto';
import { hostname } from 'node:os';
import type PgBoss from 'pg-boss';
import { afterEach, beforeEach, describe, expect, test, vi } from 'vitest';
import { asSystem } from '@/lib/auth/system';
import { type Beat, listBeats, recordBeat } from '@/lib/data/health.system';
import { systemClock } from '@/lib/platform/clock';
import { connectQueue, createQueue, QUEUES } from '@/lib/platform/queue';
import { startWorker, type WorkerSettings } from '@/lib/worker/worker';
import { createAtWork } from '@/lib/worker/at-work';
import { isOnlyWorker, startBeat } from '@/lib/worker/beat';
import { handBackLostJobs } from '@/lib/worker/lost-jobs';
import type { Log } from '@/lib/workflows/ports';
import { buildClip, buildLesson, buildPlayer, buildProgram } from '../support/build';

const system = asSystem('worker');
const log: Log = { info: () => {}, warn: () => {}, error: () => {} };
const databaseUrl = process.env.DATABASE_URL ?? '';
const waiting = { timeout: 20_000, interval: 50 };

let boss: PgBoss;
let stop: (() => Promise<void>) | undefined;
let settings: WorkerSettings;
const prepareClip = vi.fn<WorkerSettings['jobs']['prepareClip']>();
const drainOutbox = vi.fn<WorkerSettings['jobs']['drainOutbox']>();
const renderExport = vi.fn<WorkerSettings['jobs']['renderExport']>();
const turnAges = vi.fn<WorkerSettings['jobs']['turnAges']>();
const tellDue = vi.fn<WorkerSettings['jobs']['tellDue']>();
const makeCopy = vi.fn<WorkerSettings['jobs']['makeCopy']>();
const keepDeadlines = vi.fn<WorkerSettings['jobs']['keepDeadlines']>();
const workOnBreakdown = vi.fn<WorkerSettings['jobs']['workOnBreakdown']>();

beforeEach(async () => {
  prepareClip.mockReset().mockResolvedValue(undefined);
  drainOutbox.mockReset().mockResolvedValue(undefined);
  renderExport.mockReset().mockResolvedValue(undefined);
  turnAges.mockReset().mockResolvedValue(undefined);
  workOnBreakdown.mockReset().mockResolvedValue(undefined);
  tellDue.mockReset().mockResolvedValue(undefined);
  makeCopy.mockReset().mockResolvedValue(undefined);
  keepDeadlines.mockReset().mockResolvedValue(undefined);
  boss = await connectQueue({ databaseUrl, isWorker: true, log });
  await boss.clearStorage();
  const ports = { clock: systemClock, log, queue: createQueue(() => Promise.resolve(boss)) };
  settings = {
    boss,
    ports,
    version: '1.2.3',
    jobs: {
      prepareClip,
      drainOutbox,
      workOnBreakdown,
      renderExport,
      turnAges,
      tellDue,
      makeCopy,
      keepDeadlines,
    },
  };
});
afterEach(async () => {
  await (stop ? stop() : boss.stop({ graceful: false }));
  stop = undefined;
});

test('looks for birthdays when its hour comes, and tries again after a failure', async () => {
  turnAges.mockRejectedValueOnce(new Error('The database was away.'));
  stop = await startWorker(settings);
  const schedules = await boss.getSchedules();
  expect(schedules.find((one) => one.name === QUEUES.turnAges)?.cron).toBe('5 * * * *');
  await boss.send(QUEUES.turnAges, {}, { singletonKey: 'all' });
  await vi.waitFor(() => expect(turnAges).toHaveBeenCalledTimes(2), waiting);
});

test('tells what is due every five minutes, and tries again after a failure', async () => {
  tellDue.mockRejectedValueOnce(new Error('The database was away.'));
  stop = await startWorker(settings);
  const schedules = await boss.getSchedules();
  expect(schedules.find((one) => one.name === QUEUES.notices)?.cron).toBe('*/5 * * * *');
  await boss.send(QUEUES.notices, {}, { singletonKey: 'all' });
  await vi.waitFor(() => expect(tellDue).toHaveBeenCalledTimes(2), waiting);
});

test('deletes what is due when its night comes, one worker at a time, and tries again after a failure', async () => {
  keepDeadlines.mockRejectedValueOnce(new Error('The database was away.'));
  stop = await startWorker(settings);
  const schedules = await boss.getSchedules();
  expect(schedules.find((one) => one.name === QUEUES.deadlines)?.cron).toBe('20 8 * * *');
  expect((await boss.getQueue(QUEUES.deadlines))?.policy).toBe('stately');
  await boss.send(QUEUES.deadlines, {}, { singletonKey: 'all' });
  await vi.waitFor(() => expect(keepDeadlines).toHaveBeenCalledTimes(2), waiting);
});

test('does what is asked for', async () => {
  stop = await startWorker(settings);
  const clipId = randomUUID();
  await settings.ports.queue.prepareClip(clipId);
  await settings.ports.queue.drainOutbox();
  const job = { kind: 'assemble', breakdownId: randomUUID() } as const;
  await settings.ports.queue.workOnBreakdown(job);
  const exportId = randomUUID();
  await settings.ports.queue.renderExport(exportId);
  await settings.ports.queue.makeCopy(exportId);
  await vi.waitFor(() => {
    expect(renderExport).toHaveBeenCalledExactlyOnceWith(exportId);
    expect(makeCopy).toHaveBeenCalledExactlyOnceWith(exportId);
    expect(workOnBreakdown).toHaveBeenCalledExactlyOnceWith(job);
    expect(prepareClip).toHaveBeenCalledExactlyOnceWith(clipId);
    expect(drainOutbox).toHaveBeenCalledOnce();
  }, waiting);
});

test('one failing clip does not hold up another and is tried again later', async () => {
  const [bad, good] = [randomUUID(), randomUUID()];
  prepareClip.mockImplementation((id) => (id === bad ? Promise.reject(new Error('no')) : Promise.resolve()));
  stop = await startWorker(settings);
  await settings.ports.queue.prepareClip(bad);
  await settings.ports.queue.prepareClip(good);
  await vi.waitFor(() => expect(prepareClip).toHaveBeenCalledTimes(2), waiting);
  await vi.waitFor(async () => expect(await waitingForRetry()).toBe(1), waiting);
});

const beatOf = (id: string, facts: Partial<Beat> = {}) =>
  recordBeat(system, { id, version: '1', at: new Date(), jobs: [], ...facts });

const aLesson = async () => {
  const program = await buildProgram();
  return buildLesson(program, await buildPlayer(program));
};

const waitingForRetry = async () => {
  const sql = "SELECT 1 FROM pgboss.job WHERE name = $1 AND state = 'retry'";
  return (await boss.getDb().executeSql(sql, [QUEUES.prepareClip])).rows.length;
};

test('takes up what a killed worker left: the clip whose job it held, and one without a job', async () => {
  const lesson = await aLesson();
  const held = await buildClip(lesson, { state: 'preparing', storageKey: 'clips/held/original.mp4' });
  const forgotten = await buildClip(lesson, {
    state: 'uploaded',
    storageKey: 'clips/forgotten/original.mp4',
  });
  await buildClip(lesson, { state: 'ready', storageKey: 'clips/ready/original.mp4' });
  await settings.ports.queue.prepareClip(held.id);
  await boss.fetch(QUEUES.prepareClip); // begun, and then nothing more is heard
  stop = await startWorker(settings);
  await vi.waitFor(() => {
    expect(prepareClip.mock.calls.map(([id]) => id).sort()).toEqual([held.id, forgotten.id].sort());
  }, waiting);
});

test('leaves the work of another living worker alone', async () => {
  // The process that runs the test runner is another one that is alive.
  await beatOf(`${hostname()}/${process.ppid}`);
  const held = await buildClip(await aLesson(), {
    state: 'preparing',
    storageKey: 'clips/held/original.mp4',
  });
  await settings.ports.queue.prepareClip(held.id);
  await boss.fetch(QUEUES.prepareClip);
  stop = await startWorker(settings);
  await settings.ports.queue.drainOutbox();
  await vi.waitFor(() => expect(drainOutbox).toHaveBeenCalled(), waiting);
  expect(prepareClip).not.toHaveBeenCalledWith(held.id);
});

describe('while several workers are at work', () => {
  const other = `${hostname()}/${process.ppid}`;
  const atWork = { queues: () => [QUEUES.prepareClip] };
  const begin = async (minutesAgo: number) => {
    await settings.ports.queue.prepareClip(randomUUID());
    const [job] = await boss.fetch(QUEUES.prepareClip);
    const sql = `UPDATE pgboss.job SET started_on = now() - $1 * interval '1 minute' WHERE id = $2`;
    await boss.getDb().executeSql(sql, [minutesAgo, job?.id]);
    return job?.id ?? '';
  };
  const stateOf = async (id: string) => (await boss.getJobById(QUEUES.prepareClip, id))?.state;

  test('a job that a living one names stays with it', async () => {
    const id = await begin(20);
    await beatOf(other, { jobs: [id] });
    await handBackLostJobs(boss, settings.ports, atWork);
    expect(await stateOf(id)).toBe('active');
  });

  test.each([
    ['whose worker gave no sign for long', 'elsewhere/7', 120_000],
    ['whose worker of this machine is gone', `${hostname()}/999999999`, 0],
  ])('a job %s is tried again', async (_, id, silentFor) => {
    const job = await begin(2);
    await beatOf(other);
    await beatOf(id, { jobs: [job], at: new Date(Date.now() - silentFor) });
    await handBackLostJobs(boss, settings.ports, atWork);
    expect(await stateOf(job)).toBe('retry');
  });

  test('a job that was begun just now may not be named yet, and one of a queue unknown to us is not ours', async () => {
    const fresh = await begin(0);
    const old = await begin(2);
    await handBackLostJobs(boss, settings.ports, { queues: () => [QUEUES.exports] });
    expect([await stateOf(fresh), await stateOf(old)]).toEqual(['active', 'active']);
    await handBackLostJobs(boss, settings.ports, atWork);
    expect([await stateOf(fresh), await stateOf(old)]).toEqual(['active', 'retry']);
  });

  test('what a worker is at stands in its sign of life', async () => {
    let finish = () => {};
    prepareClip.mockReturnValue(new Promise<void>((resolve) => (finish = resolve)));
    const taken = createAtWork(boss);
    await taken.take(QUEUES.prepareClip, { pollingIntervalSeconds: 0.5 }, async () => {
      await prepareClip(randomUUID() as never);
    });
    await settings.ports.queue.prepareClip(randomUUID());
    await vi.waitFor(() => expect(taken.jobs()).toHaveLength(1), waiting);
    expect(taken.queues()).toEqual([QUEUES.prepareClip]);
    const stopBeat = await startBeat(settings.ports, '1', taken, () => Promise.resolve());
    const mine = (await listBeats(system)).find((beat) => beat.id === `${hostname()}/${process.pid}`);
    expect(mine?.jobs).toEqual(taken.jobs());
    finish();
    await vi.waitFor(() => expect(taken.jobs()).toEqual([]), waiting);
    await stopBeat();
  });
});

test('gives a sign of life from its start to its end', async () => {
  stop = await startWorker(settings);
  const id = `${hostname()}/${process.pid}`;
  const mine = async () => (await listBeats(system)).filter((beat) => beat.id === id);
  expect(await mine()).toMatchObject([{ version: '1.2.3' }]);
  await stop();
  stop = undefined;
  expect(await mine()).toEqual([]);
  boss = await connectQueue({ databaseUrl, isWorker: false, log });
});

test.each([
  ['of this machine whose process is gone', true, `${hostname()}/999999999`, 0],
  ['of this machine whose process lives', false, `${hostname()}/${process.ppid}`, 0],
  ['of another machine that spoke just now', false, 'elsewhere/7', 0],
  ['of another machine that is silent for long', true, 'elsewhere/7', 120_000],
])('a worker %s counts as dead: %s', async (_, isDead, id, silentFor) => {
  const others = await listBeats(system);
  for (const beat of others) await recordBeat(system, { ...beat, at: new Date(0) });
  await isOnlyWorker({ clock: systemClock });
  await beatOf(id, { at: new Date(Date.now() - silentFor) });
  expect(await isOnlyWorker({ clock: systemClock })).toBe(isDead);
});
