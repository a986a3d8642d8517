import { isStaff, type Viewer } from '@/lib/domain/people/viewer';
import { CagepostError, notFound } from '@/lib/domain/shared/errors';
import type { BreakdownId, RemarkId, ThreadId } from '@/lib/domain/shared/ids';
import { db, type Tx } from './client';
import { breakdownsVisibleTo } from './visibility';

export interface PartName {
  breakdownId: BreakdownId;
  segmentId: string;
  number: number;
}

/** The bytes that a part has already. */
export interface StoredAlready {
  storageKey: string;
  sizeBytes: number;
}

/**
 * Lets a part of a take take its bytes: for the coach who records the breakdown, while it is open and the lesson is
 * theirs. Answers what is stored there already, null when nothing is, and the thread whose gate has to be open. What is
 * not stored yet has the size of its newest claim.
 */
export async function claimPart(
  viewer: Viewer,
  tx: Tx,
  part: PartName,
  sizeBytes: number,
): Promise<{ stored: StoredAlready | null; threadId: ThreadId }> {
  const row = await db(tx).breakdown.findFirst({
    where: { AND: [{ id: part.breakdownId, byId: viewer.personId }, breakdownsVisibleTo(viewer)] },
    select: { state: true, lesson: { select: { state: true, coachId: true, threadId: true } } },
  });
  if (!row || !isStaff(viewer)) throw notFound('breakdown');
  if (row.state === 'removed')
    throw new CagepostError('wrong-state', 'This breakdown was removed, so nothing more of it is kept.');
  const threadId = row.lesson.threadId as ThreadId;
  const key = { breakdownId: part.breakdownId, segmentId: part.segmentId, number: part.number };
  const known = await db(tx).breakdownPart.findUnique({
    where: { breakdownId_segmentId_number: key },
    select: { sizeBytes: true, storageKey: true },
  });
  if (known?.storageKey)
    return { stored: { storageKey: known.storageKey, sizeBytes: known.sizeBytes }, threadId };
  assertOpen(row, viewer);
  await db(tx).breakdownPart.upsert({
    where: { breakdownId_segmentId_number: key },
    create: { ...key, sizeBytes },
    update: { sizeBytes },
  });
  return { stored: null, threadId };
}

const assertOpen = (
  row: { state: string; lesson: { state: string; coachId: string | null } },
  viewer: Viewer,
): void => {
  if (row.state !== 'recording' && row.state !== 'failed')
    throw new CagepostError(
      'wrong-state',
      'This breakdown was kept already. To record more of it, open it again on the bench; this part is still on your device.',
      { state: row.state },
    );
  const isTheirs = row.lesson.coachId === viewer.personId;
  if (!isTheirs || !['in_review', 'returned', 'closed'].includes(row.lesson.state))
    throw new CagepostError(
      'wrong-state',
      'This lesson is not with you any more. What you recorded is kept on this device.',
      { state: row.lesson.state },
    );
};

/** Lets the voice of a spoken remark take its bytes: for its owner, once. Answers whether it is stored already. */
export async function claimRemark(viewer: Viewer, tx: Tx, id: RemarkId): Promise<{ isStored: boolean }> {
  const row = await db(tx).remark.findFirst({
    where: { id, ownerId: viewer.personId, programId: viewer.programId, durationMs: { not: null } },
    select: { storageKey: true },
  });
  if (!row || !isStaff(viewer)) throw notFound('remark');
  return { isStored: row.storageKey !== null };
}
