import type { System } from '@/lib/domain/people/viewer';
import { db } from './client';

/** A sign of life: which worker process, of which version, when it gave it, and the ids of the jobs it was at. */
export interface Beat {
  id: string;
  version: string;
  at: Date;
  jobs: string[];
}

/** Writes down that a worker is alive. */
export async function recordBeat(_system: System, { id, version, at, jobs }: Beat): Promise<void> {
  await db().workerBeat.upsert({
    where: { id },
    create: { id, version, at, jobs },
    update: { version, at, jobs },
  });
}

/** The last sign of life of each worker that has not signed off, latest first. */
export async function listBeats(_system: System): Promise<Beat[]> {
  return db().workerBeat.findMany({
    orderBy: { at: 'desc' },
    take: 100,
    select: { id: true, version: true, at: true, jobs: true },
  });
}

/** Takes workers off the list that ended or are known to be dead. */
export async function forgetBeats(_system: System, ids: readonly string[]): Promise<void> {
  await db().workerBeat.deleteMany({ where: { id: { in: [...ids] } } });
}
