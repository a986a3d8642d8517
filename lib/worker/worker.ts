import { availableParallelism } from 'node:os';
import type PgBoss from 'pg-boss';
import { asSystem } from '@/lib/auth/system';
import { listCaptionsAsked, listUnassembled } from '@/lib/data/breakdowns.system';
import { listUnmadeExports } from '@/lib/data/breakdown-exports.system';
import { listUnprepared } from '@/lib/data/clips-waiting.system';
import { listUnmadePersonalExports } from '@/lib/data/personal-exports.system';
import type { ClipId, ExportId } from '@/lib/domain/shared/ids';
import {
  type CopyJob,
  dropLostJobs,
  type ExportJob,
  type PrepareClipJob,
  QUEUES,
} from '@/lib/platform/queue';
import type { BreakdownJob, Ports } from '@/lib/workflows/ports';
import { createAtWork } from './at-work';
import { isOnlyWorker, startBeat } from './beat';
import { handBackLostJobs } from './lost-jobs';

// What is at work when the program ends is handed back after this; the next start takes it up again.
const STOP_PATIENCE_MS = 5_000;

/** What the worker does, one function a queue. One that throws is tried again later. */
export interface Jobs {
  prepareClip(clipId: ClipId): Promise<unknown>;
  drainOutbox(): Promise<unknown>;
  workOnBreakdown(job: BreakdownJob): Promise<unknown>;
  renderExport(exportId: ExportId): Promise<unknown>;
  turnAges(): Promise<unknown>;
  /** Tells what time alone makes worth telling, and gathers the daily mails. */
  tellDue(): Promise<unknown>;
  makeCopy(copyId: string): Promise<unknown>;
  keepDeadlines(): Promise<unknown>;
}

export interface WorkerSettings {
  boss: PgBoss;
  jobs: Jobs;
  ports: Pick<Ports, 'clock' | 'log' | 'queue'>;
  version: string;
}

/**
 * Starts taking work: as many clips at a time as the machine has cores, one round of mail at a time, at least one a
 * minute. The answer stops it: nothing new is taken, what is at work gets a few seconds and then goes back.
 */
export async function startWorker({
  boss,
  jobs,
  ports,
  version,
}: WorkerSettings): Promise<() => Promise<void>> {
  const { log } = ports;
  if (await isOnlyWorker(ports)) await takeUpLostWork(boss, ports);
  const atWork = createAtWork(boss);
  const stopBeat = await startBeat(ports, version, atWork, () => handBackLostJobs(boss, ports, atWork));

  const taking = { pollingIntervalSeconds: 0.5 };
  /** Takes jobs of a queue and logs how each went: `over` with what came of it where it is said, `failed` always. */
  const take = <Data extends object>(
    queue: string,
    work: (data: Data) => Promise<unknown>,
    words: { failed: string; over?: string },
    factsOf: (job: PgBoss.Job<Data>) => object = () => ({}),
  ) =>
    atWork.take<Data>(queue, taking, async (job) => {
      const facts = factsOf(job);
      try {
        const result = await work(job.data);
        if (words.over) log.info({ ...facts, result }, words.over);
      } catch (error) {
        log.error({ ...facts, err: error }, words.failed);
        throw error;
      }
    });
  // Every core has a taker of its own.
  for (let core = 0; core < availableParallelism(); core += 1) {
    await take<PrepareClipJob>(
      QUEUES.prepareClip,
      ({ clipId }) => jobs.prepareClip(clipId as ClipId),
      { over: 'preparing a clip is over', failed: 'preparing a clip failed' },
      ({ id, data }) => ({ clipId: data.clipId, job: id }),
    );
  }
  const itsData = <Data extends object>({ data }: PgBoss.Job<Data>) => data;
  await take<BreakdownJob>(
    QUEUES.breakdowns,
    (job) => jobs.workOnBreakdown(job),
    { over: 'work on a breakdown is over', failed: 'work on a breakdown failed' },
    itsData,
  );
  await take<ExportJob>(
    QUEUES.exports,
    ({ exportId }) => jobs.renderExport(exportId as ExportId),
    { over: 'making a file is over', failed: 'making a file failed' },
    itsData,
  );
  await take<CopyJob>(
    QUEUES.copies,
    ({ copyId }) => jobs.makeCopy(copyId),
    { over: 'making a copy of everything is over', failed: 'making a copy of everything failed' },
    itsData,
  );
  await take(QUEUES.drainOutbox, () => jobs.drainOutbox(), { failed: 'a round of mail failed' });
  await take(QUEUES.turnAges, () => jobs.turnAges(), { failed: 'looking for birthdays failed' });
  await take(QUEUES.notices, () => jobs.tellDue(), { failed: 'telling what is due failed' });
  await take(QUEUES.deadlines, () => jobs.keepDeadlines(), {
    over: 'what was due is deleted',
    failed: 'deleting what was due failed',
  });
  await boss.schedule(QUEUES.deadlines, '20 8 * * *', {}, { singletonKey: 'all' });
  // Every hour, because each program has a midnight of its own.
  await boss.schedule(QUEUES.turnAges, '5 * * * *', {}, { singletonKey: 'all' });
  await boss.schedule(QUEUES.notices, '*/5 * * * *', {}, { singletonKey: 'all' });
  await boss.schedule(QUEUES.drainOutbox, '* * * * *', {}, { singletonKey: 'all' });

  return async () => {
    await boss.stop({ graceful: true, wait: true, timeout: STOP_PATIENCE_MS });
    await stopBeat();
  };
}

// A worker that was killed leaves jobs that nobody is at, and a clip may have used up its tries by being killed each
// time. What is still to do stands in the clips themselves, so it is asked for anew.
async function takeUpLostWork(boss: PgBoss, { log, queue }: WorkerSettings['ports']): Promise<void> {
  const lost = await dropLostJobs(boss);
  const unprepared = await listUnprepared(asSystem('worker'));
  for (const clipId of unprepared) await queue.prepareClip(clipId);
  const unassembled = await listUnassembled(asSystem('worker'));
  for (const breakdownId of unassembled) await queue.workOnBreakdown({ kind: 'assemble', breakdownId });
  for (const breakdownId of await listCaptionsAsked(asSystem('worker')))
    await queue.workOnBreakdown({ kind: 'captions', breakdownId });
  for (const exportId of await listUnmadeExports(asSystem('worker'))) await queue.renderExport(exportId);
  for (const copyId of await listUnmadePersonalExports(asSystem('worker'))) await queue.makeCopy(copyId);
  if (lost + unprepared.length + unassembled.length > 0) {
    log.info(
      { lost, unprepared: unprepared.length, unassembled: unassembled.length },
      'work that was left behind is taken up',
    );
  }
}
