import PgBoss from 'pg-boss';
import type { BreakdownJob, Log, Queue } from '@/lib/workflows/ports';

/** The names of the queues, as the worker takes from them. */
export const QUEUES = {
  prepareClip: 'prepare-clip',
  drainOutbox: 'drain-outbox',
  breakdowns: 'breakdowns',
  exports: 'exports',
  turnAges: 'turn-ages',
  notices: 'notices',
  copies: 'copies',
  deadlines: 'deadlines',
} as const;

/** What a job of `prepare-clip` carries. */
export interface PrepareClipJob {
  clipId: string;
}

/** What a job of `exports` carries. */
export interface ExportJob {
  exportId: string;
}

/** What a job of `copies` carries. */
export interface CopyJob {
  copyId: string;
}

// Preparing three minutes of 4K on a small machine takes minutes; a worker that hangs for longer has lost the job.
const PREPARE_EXPIRES_S = 30 * 60;
const DRAIN_EXPIRES_S = 5 * 60;
const EXPORT_EXPIRES_S = 60 * 60;
const NIGHT_EXPIRES_S = 6 * 60 * 60;

/** A Prisma transaction, as far as the queue uses it. */
interface SqlTransaction {
  $queryRawUnsafe(sql: string, ...values: unknown[]): Promise<unknown>;
}

const isSqlTransaction = (tx: unknown): tx is SqlTransaction =>
  typeof tx === 'object' && tx !== null && '$queryRawUnsafe' in tx;

const throughTransaction = (tx: unknown): PgBoss.Db => {
  if (!isSqlTransaction(tx))
    throw new TypeError('The queue was handed something that is no transaction of lib/data.');
  return {
    executeSql: async (sql, values) => ({ rows: (await tx.$queryRawUnsafe(sql, ...values)) as unknown[] }),
  };
};

/** Makes the queues, or brings their settings up to date. A repeated request finds the one that still waits. */
async function ensureQueues(boss: PgBoss): Promise<void> {
  const retries = { retryLimit: 4, retryDelay: 5, retryBackoff: true };
  const queues: PgBoss.Queue[] = [
    { name: QUEUES.prepareClip, policy: 'short', ...retries, expireInSeconds: PREPARE_EXPIRES_S },
    { name: QUEUES.breakdowns, policy: 'short', ...retries, expireInSeconds: PREPARE_EXPIRES_S },
    { name: QUEUES.exports, policy: 'short', ...retries, expireInSeconds: EXPORT_EXPIRES_S },
    { name: QUEUES.turnAges, policy: 'short', ...retries, expireInSeconds: PREPARE_EXPIRES_S },
    { name: QUEUES.notices, policy: 'short', ...retries, expireInSeconds: PREPARE_EXPIRES_S },
    { name: QUEUES.copies, policy: 'short', ...retries, expireInSeconds: EXPORT_EXPIRES_S },
    // One at work at a time, over all workers.
    { name: QUEUES.deadlines, policy: 'stately', ...retries, expireInSeconds: NIGHT_EXPIRES_S },
    { name: QUEUES.drainOutbox, policy: 'short', retryLimit: 0, expireInSeconds: DRAIN_EXPIRES_S },
  ];
  for (const queue of queues) {
    await boss.createQueue(queue.name, queue);
    await boss.updateQueue(queue.name, queue);
  }
}

export interface QueueSettings {
  databaseUrl: string;
  /** The worker's connection also tidies up and minds the schedule; the web server's only asks for work. */
  isWorker: boolean;
  log: Log;
}

/** Connects to the queue in the database and makes its tables when they are not there. */
export async function connectQueue({ databaseUrl, isWorker, log }: QueueSettings): Promise<PgBoss> {
  const boss = new PgBoss({
    connectionString: databaseUrl,
    application_name: isWorker ? 'cagepost worker queue' : 'cagepost queue',
    max: isWorker ? 4 : 2,
    supervise: isWorker,
    schedule: isWorker,
    maintenanceIntervalSeconds: 60,
    archiveCompletedAfterSeconds: 24 * 3600,
  });
  boss.on('error', (error) => log.error({ err: error }, 'queue'));
  await boss.start();
  await ensureQueues(boss);
  return boss;
}

/**
 * Takes away the jobs that somebody began and did not finish. Only right while no worker is at work, and only for one
 * who asks for the work anew. Returns how many there were.
 */
export async function dropLostJobs(boss: PgBoss): Promise<number> {
  let lost = 0;
  for (const name of Object.values(QUEUES)) {
    const sql = "SELECT id FROM pgboss.job WHERE name = $1 AND state IN ('active', 'retry')";
    const { rows } = await boss.getDb().executeSql(sql, [name]);
    const ids = (rows as { id: string }[]).map((row) => row.id);
    if (ids.length > 0) await boss.deleteJob(name, ids);
    lost += ids.length;
  }
  return lost;
}

/**
 * Hands back the jobs of these queues that were begun a minute ago or earlier and that nobody is at: each counts as
 * one that failed, and is tried again as often as its queue allows. Returns how many there were.
 */
export async function failLostJobs(
  boss: PgBoss,
  queues: readonly string[],
  atWork: ReadonlySet<string>,
): Promise<number> {
  const sql = `SELECT id, name FROM pgboss.job
    WHERE name = ANY($1) AND state = 'active' AND started_on < now() - interval '1 minute'`;
  const { rows } = await boss.getDb().executeSql(sql, [queues]);
  const lost = (rows as { id: string; name: string }[]).filter(({ id }) => !atWork.has(id));
  for (const { id, name } of lost) await boss.fail(name, id, { message: 'its worker is gone' });
  return lost.length;
}

/**
 * The Queue port. With a transaction the request stands or falls with it. `connect` is called at the first use and,
 * if it failed, again at the next: a server may start before its database answers.
 */
export const createQueue = (connect: () => Promise<PgBoss>): Queue => {
  let connected: Promise<PgBoss> | undefined;
  const boss = async () => {
    connected ??= connect();
    try {
      return await connected;
    } catch (error) {
      connected = undefined;
      throw error;
    }
  };
  const ask = async (name: string, data: object, singletonKey: string, tx: unknown) => {
    const db = tx === undefined ? {} : { db: throughTransaction(tx) };
    await (await boss()).send(name, data, { singletonKey, ...db });
  };
  return {
    prepareClip: (clipId, tx) => ask(QUEUES.prepareClip, { clipId } satisfies PrepareClipJob, clipId, tx),
    workOnBreakdown: (job, tx) =>
      ask(QUEUES.breakdowns, job satisfies BreakdownJob, `${job.kind}:${job.breakdownId}`, tx),
    renderExport: (exportId, tx) => ask(QUEUES.exports, { exportId } satisfies ExportJob, exportId, tx),
    makeCopy: (copyId, tx) => ask(QUEUES.copies, { copyId } satisfies CopyJob, copyId, tx),
    drainOutbox: (tx) => ask(QUEUES.drainOutbox, {}, 'all', tx),
  };
};
