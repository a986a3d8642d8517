import type { System } from '@/lib/domain/people/viewer';
import { db } from './client';

/** A sign of life: which worker process, of which version, and when it gave it. */
export interface Beat {
  id: string;
  version: string;
  at: Date;
}

/** Writes down that a worker is alive. */
export async function recordBeat(_system: System, { id, version, at }: Beat): Promise<void> {
  await db().workerBeat.upsert({ where: { id }, create: { id, version, at }, update: { version, at } });
}

/** The last sign of life of each worker that has not signed off, latest first. */
export async function listBeats(_system: System): Promise<Beat[]> {
  return db().workerBeat.findMany({
    orderBy: { at: 'desc' },
    take: 100,
    select: { id: true, version: true, at: true },
  });
}

/** Takes workers off the list that ended or are known to be dead. */
export async function forgetBeats(_system: System, ids: readonly string[]): Promise<void> {
  await db().workerBeat.deleteMany({ where: { id: { in: [...ids] } } });
}
