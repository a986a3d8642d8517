import { listBeats } from '@/lib/data/health.system';
import type { System } from '@/lib/domain/people/viewer';
import type { Ports } from './ports';

/** A worker gives a sign of life every 10 seconds; three missed ones mean that it is gone. */
const BEAT_COUNTS_MS = 30_000;
const PATIENCE_MS = 3_000;

export const PARTS = ['database', 'storage', 'queue', 'worker'] as const;
export type Part = (typeof PARTS)[number];
export type Health = Record<Part, 'up' | 'down'>;

const inTime = async (check: () => Promise<boolean>): Promise<boolean> => {
  let timer: NodeJS.Timeout | undefined;
  const late = new Promise<never>((_, reject) => {
    timer = setTimeout(() => reject(new Error(`no answer within ${PATIENCE_MS} ms`)), PATIENCE_MS);
  });
  try {
    return await Promise.race([check(), late]);
  } finally {
    clearTimeout(timer);
  }
};

/** Asks every part of the program whether it works. Never throws: what fails or does not answer in time is down. */
export async function checkHealth(
  system: System,
  {
    clock,
    log,
    storage,
    isQueueUp,
  }: Pick<Ports, 'clock' | 'log' | 'storage'> & { isQueueUp: () => Promise<boolean> },
): Promise<Health> {
  const checks: Record<Part, () => Promise<boolean>> = {
    database: () => listBeats(system).then(() => true),
    storage: () => storage.size('health/none').then((size) => size === null),
    queue: isQueueUp,
    worker: async () => {
      const [latest] = await listBeats(system);
      return latest !== undefined && clock.now().getTime() - latest.at.getTime() < BEAT_COUNTS_MS;
    },
  };
  const states = PARTS.map(async (part) => {
    try {
      return [part, (await inTime(checks[part])) ? 'up' : 'down'] as const;
    } catch (error) {
      log.warn({ part, err: error }, 'a part is down');
      return [part, 'down'] as const;
    }
  });
  return Object.fromEntries(await Promise.all(states)) as Health;
}
