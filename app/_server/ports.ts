import type PgBoss from 'pg-boss';
import { systemClock } from '@/lib/platform/clock';
import { env } from '@/lib/platform/env';
import { systemIds } from '@/lib/platform/ids';
import { log } from '@/lib/platform/log';
import { connectQueue, createQueue } from '@/lib/platform/queue';
import { createStorage } from '@/lib/platform/storage';
import type { Ports, Storage } from '@/lib/workflows/ports';

// Kept on the process: the dev server loads this file again after every change, the connections must not pile up.
const kept = globalThis as unknown as { cagepostQueue?: Promise<PgBoss>; cagepostStorage?: Storage };

const connect = () => {
  kept.cagepostQueue ??= connectQueue({ databaseUrl: env.DATABASE_URL, isWorker: false, log });
  kept.cagepostQueue.catch(() => delete kept.cagepostQueue);
  return kept.cagepostQueue;
};

/** What the workflows of this server use of the outer world. Nothing is opened before it is needed. */
export const ports: Ports = {
  clock: systemClock,
  ids: systemIds,
  log,
  queue: createQueue(connect),
  get storage() {
    kept.cagepostStorage ??= createStorage({
      dataFolder: env.DATA_DIR,
      uploadthingToken: env.UPLOADTHING_TOKEN,
    });
    return kept.cagepostStorage;
  },
};

/** Whether the queue's tables answer. */
export const isQueueUp = async (): Promise<boolean> => Boolean(await (await connect()).isInstalled());
