import type PgBoss from 'pg-boss';
import { failLostJobs } from '@/lib/platform/queue';
import type { Ports } from '@/lib/workflows/ports';
import type { AtWork } from './at-work';
import { listJobsAtWork } from './beat';

/** While others are at work, a dead worker's jobs are those that no living one names; they are tried again. */
export async function handBackLostJobs(
  boss: PgBoss,
  ports: Pick<Ports, 'clock' | 'log'>,
  atWork: Pick<AtWork, 'queues'>,
): Promise<void> {
  const lost = await failLostJobs(boss, atWork.queues(), await listJobsAtWork(ports));
  if (lost > 0) ports.log.warn({ lost }, 'work of a worker that is gone is handed back');
}
