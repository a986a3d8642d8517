import type PgBoss from 'pg-boss';

/** What this worker is at, so that others can tell its jobs from those of a dead one. */
export interface AtWork {
  /** Ids of jobs that were begun here and are not over. */
  jobs(): string[];
  /** Names of the queues whose jobs are noted. */
  queues(): string[];
  /** `boss.work` with batches of one job, noted while it is at work. A job that throws is tried again later. */
  take<Data extends object>(
    queue: string,
    options: PgBoss.WorkOptions,
    work: (job: PgBoss.Job<Data>) => Promise<void>,
  ): Promise<void>;
}

/** Takes jobs from the queues of `boss` and notes them. */
export const createAtWork = (boss: PgBoss): AtWork => {
  const ids = new Set<string>();
  const names = new Set<string>();
  return {
    jobs: () => [...ids],
    queues: () => [...names],
    async take<Data extends object>(
      queue: string,
      options: PgBoss.WorkOptions,
      work: (job: PgBoss.Job<Data>) => Promise<void>,
    ) {
      names.add(queue);
      // A batch fails as a whole, so every job is a batch of its own.
      await boss.work<Data>(queue, { ...options, batchSize: 1 }, async ([job]) => {
        if (!job) return;
        ids.add(job.id);
        try {
          await work(job);
        } finally {
          ids.delete(job.id);
        }
      });
    },
  };
};
