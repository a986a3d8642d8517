import { availableParallelism } from 'node:os';
import type PgBoss from 'pg-boss';
import { failLostJobs, type PrepareClipJob, QUEUES } from '@/lib/platform/queue';
import type { Ports } from '@/lib/workflows/ports';
import { isOnlyWorker, startBeat } from './beat';

// What is at work when the program ends is handed back after this; the next start takes it up again.
const STOP_PATIENCE_MS = 5_000;

/** What the worker does, one function a queue. One that throws is tried again later. */
export interface Jobs {
  prepareClip(clipId: string, isLastTry: boolean): Promise<void>;
  drainOutbox(): Promise<void>;
}

export interface WorkerSettings {
  boss: PgBoss;
  jobs: Jobs;
  ports: Pick<Ports, 'clock' | 'log'>;
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
  if (await isOnlyWorker(ports)) {
    const lost = await failLostJobs(boss);
    if (lost > 0) log.warn({ lost }, 'work of a worker that is gone is taken up again');
  }
  const stopBeat = await startBeat(ports, version);

  // A batch fails as a whole, so every job is a batch of its own, and every core has a taker of its own.
  const prepare = async ([job]: PgBoss.JobWithMetadata<PrepareClipJob>[]) => {
    if (!job) return;
    const facts = { clipId: job.data.clipId, attempt: job.retryCount + 1 };
    try {
      await jobs.prepareClip(job.data.clipId, job.retryCount >= job.retryLimit);
      log.info(facts, 'clip prepared');
    } catch (error) {
      log.error({ ...facts, err: error }, 'preparing a clip failed');
      throw error;
    }
  };
  const taking = { batchSize: 1, pollingIntervalSeconds: 0.5 };
  for (let core = 0; core < availableParallelism(); core += 1) {
    await boss.work<PrepareClipJob>(QUEUES.prepareClip, { ...taking, includeMetadata: true }, prepare);
  }
  await boss.work(QUEUES.drainOutbox, taking, async () => {
    try {
      await jobs.drainOutbox();
    } catch (error) {
      log.error({ err: error }, 'a round of mail failed');
      throw error;
    }
  });
  await boss.schedule(QUEUES.drainOutbox, '* * * * *', {}, { singletonKey: 'all' });

  return async () => {
    await boss.stop({ graceful: true, wait: true, timeout: STOP_PATIENCE_MS });
    await stopBeat();
  };
}
