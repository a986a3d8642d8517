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

  const prepare = async (job: PgBoss.Job<PrepareClipJob>) => {
    const facts = { clipId: job.data.clipId, job: job.id };
    try {
      const result = await jobs.prepareClip(job.data.clipId as ClipId);
      log.info({ ...facts, result }, 'preparing a clip is over');
    } catch (error) {
      log.error({ ...facts, err: error }, 'preparing a clip failed');
      throw error;
    }
  };
  const taking = { pollingIntervalSeconds: 0.5 };
  // Every core has a taker of its own.
  for (let core = 0; core < availableParallelism(); core += 1) {
    await atWork.take<PrepareClipJob>(QUEUES.prepareClip, taking, prepare);
  }
  await atWork.take<BreakdownJob>(QUEUES.breakdowns, taking, async (job) => {
    try {
      const result = await jobs.workOnBreakdown(job.data);
      log.info({ ...job.data, result }, 'work on a breakdown is over');
    } catch (error) {
      log.error({ ...job.data, err: error }, 'work on a breakdown failed');
      throw error;
    }
  });
  await atWork.take<ExportJob>(QUEUES.exports, taking, async (job) => {
    try {
      const result = await jobs.renderExport(job.data.exportId as ExportId);
      log.info({ ...job.data, result }, 'making a file is over');
    } catch (error) {
      log.error({ ...job.data, err: error }, 'making a file failed');
      throw error;
    }
  });
  await atWork.take(QUEUES.drainOutbox, taking, async () => {
    try {
      await jobs.drainOutbox();
    } catch (error) {
      log.error({ err: error }, 'a round of mail failed');
      throw error;
    }
  });
  await atWork.take(QUEUES.turnAges, taking, async () => {
    try {
      await jobs.turnAges();
    } catch (error) {
      log.error({ err: error }, 'looking for birthdays failed');
      throw error;
    }
  });
  await atWork.take(QUEUES.notices, taking, async () => {
    try {
      await jobs.tellDue();
    } catch (error) {
      log.error({ err: error }, 'telling what is due failed');
      throw error;
    }
  });
  await atWork.take<CopyJob>(QUEUES.copies, taking, async (job) => {
    try {
      const result = await jobs.makeCopy(job.data.copyId);
      log.info({ ...job.data, result }, 'making a copy of everything is over');
    } catch (error) {
      log.error({ ...job.data, err: error }, 'making a copy of everything failed');
      throw error;
    }
  });
  await atWork.take(QUEUES.deadlines, taking, async () => {
    try {
      const result = await jobs.keepDeadlines();
      log.info({ result }, 'what was due is deleted');
    } catch (error) {
      log.error({ err: error }, 'deleting what was due failed');
      throw error;
    }
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
