import { breakdownFolder } from '@/lib/domain/breakdowns/files';
import { clipFolder } from '@/lib/domain/privacy/files';
import { db, type Tx } from './client';
import { Prisma } from './generated/client';

/** Words and files of these breakdowns are gone from now on; that they existed stays. Answers their folders. */
async function stripBreakdowns(tx: Tx, where: Prisma.BreakdownWhereInput, now: Date): Promise<string[]> {
  const rows = await db(tx).breakdown.findMany({ where, select: { id: true, removedAt: true } });
  const ids = rows.map((row) => row.id);
  const those = { breakdownId: { in: ids } };
  await db(tx).breakdown.updateMany({
    where: { id: { in: ids }, removedAt: null },
    data: { removedAt: now },
  });
  await db(tx).breakdown.updateMany({
    where: { id: { in: ids } },
    data: {
      state: 'removed',
      title: '',
      captions: '',
      captionState: 'none',
      captionFault: null,
      failDetail: null,
      recipe: Prisma.DbNull,
      sizeBytes: 0n,
    },
  });
  await db(tx).breakdownExport.deleteMany({ where: those });
  await db(tx).breakdownPart.deleteMany({ where: those });
  await db(tx).breakdownView.deleteMany({ where: those });
  await db(tx).captionAsk.deleteMany({ where: those });
  return ids.map(breakdownFolder);
}

/** The same of clips: their frames can be seen no more, that there was one stays. */
async function stripClips(tx: Tx, where: Prisma.ClipWhereInput, now: Date): Promise<string[]> {
  const rows = await db(tx).clip.findMany({ where, select: { id: true } });
  const ids = rows.map((row) => row.id);
  await db(tx).clip.updateMany({ where: { id: { in: ids }, removedAt: null }, data: { removedAt: now } });
  await db(tx).clip.updateMany({
    where: { id: { in: ids } },
    data: { storageKey: null, md5: null, failDetail: null, focal35mm: null },
  });
  return ids.map(clipFolder);
}

/**
 * Takes clips and breakdowns of these lessons away and writes down that their files have to go, in one transaction.
 * Doing it again does no harm, and lets their files go again. Answers how many there were.
 */
export async function stripMedia(
  tx: Tx,
  of: { clips: Prisma.ClipWhereInput | null; breakdowns: Prisma.BreakdownWhereInput | null },
  now: Date,
): Promise<number> {
  const prefixes = [
    ...(of.clips ? await stripClips(tx, of.clips, now) : []),
    ...(of.breakdowns ? await stripBreakdowns(tx, of.breakdowns, now) : []),
  ];
  await letFilesGo(tx, prefixes, now);
  return prefixes.length;
}

/** Writes down that everything under these prefixes of the storage has to go. */
export async function letFilesGo(tx: Tx, prefixes: readonly string[], now: Date): Promise<void> {
  await db(tx).fileRemoval.createMany({
    data: prefixes.map((prefix) => ({ prefix, at: now })),
    skipDuplicates: true,
  });
}

/** Lets this transaction empty words and names of rows that otherwise refuse every change. */
export async function allowBlanking(tx: Tx): Promise<void> {
  await db(tx).$queryRaw`SELECT set_config('cagepost.blanking', 'on', true)`;
}

/**
 * One at a time in a program: what deletes, and who places a hold. So nothing of a player goes after the moment in
 * which a hold was placed.
 */
export async function lockDeletion(tx: Tx, programId: string): Promise<void> {
  await db(tx).$queryRaw`SELECT 1 FROM pg_advisory_xact_lock(hashtextextended(${programId}, 7))`;
}

/** Players on whom a legal hold stands: of a program, or of all with null. Take `lockDeletion` before. */
export async function heldPlayers(tx: Tx | undefined, programId: string | null): Promise<string[]> {
  const rows = await db(tx).legalHold.findMany({
    where: { endedAt: null, ...(programId ? { programId } : {}) },
    select: { playerId: true },
  });
  return [...new Set(rows.map((row) => row.playerId))];
}
