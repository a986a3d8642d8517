import { dateOfDay, type Day } from '@/lib/domain/people/age';
import type { System } from '@/lib/domain/people/viewer';
import { addCounts, deadlinesOf, type Counts, type Deadlines } from '@/lib/domain/privacy/retention';
import type { ProgramId } from '@/lib/domain/shared/ids';
import { db, type Tx } from './client';

/** Every program with the deadlines that hold there. */
export async function listDeadlines(
  _system: System,
): Promise<{ programId: ProgramId; deadlines: Deadlines }[]> {
  const rows = await db().program.findMany({
    select: { id: true, retention: true },
    orderBy: { createdAt: 'asc' },
  });
  return rows.map((row) => ({ programId: row.id as ProgramId, deadlines: deadlinesOf(row.retention) }));
}

/** The night of a program, or of the whole installation with null. */
export interface Night {
  programId: ProgramId | null;
  day: Day;
}
const idOf = ({ programId, day }: Night) => `${programId ?? 'all'}:${day}`;

/**
 * Adds to the journal of a night, in the transaction of what was deleted: a night that is broken off and begun again
 * counts everything once.
 */
export async function noteNight(
  _system: System,
  tx: Tx | undefined,
  night: Night,
  counts: Counts,
  now: Date,
): Promise<void> {
  const id = idOf(night);
  await db(tx).retentionRun.createMany({
    data: [{ id, programId: night.programId, day: dateOfDay(night.day), startedAt: now }],
    skipDuplicates: true,
  });
  await db(tx).$queryRaw`SELECT 1 FROM "RetentionRun" WHERE id = ${id} FOR UPDATE`;
  const run = await db(tx).retentionRun.findUniqueOrThrow({ where: { id }, select: { counts: true } });
  await db(tx).retentionRun.update({ where: { id }, data: { counts: addCounts(run.counts, counts) } });
}

/** Notes that the night came to its end. */
export async function endNight(_system: System, night: Night, now: Date): Promise<void> {
  await db().retentionRun.updateMany({ where: { id: idOf(night) }, data: { endedAt: now } });
}
