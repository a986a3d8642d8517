import type { ClipFault } from '@/lib/domain/clips/clip';
import type { System } from '@/lib/domain/people/viewer';
import { notFound } from '@/lib/domain/shared/errors';
import type { ClipId, PersonId, ProgramId } from '@/lib/domain/shared/ids';
import { db, type Tx } from './client';

// The bytes of a clip often come to their end without anybody there: after a killed server, by a call from the
// host. The claim was the sender's own and checked then; here only the clip must still be wanted and theirs.

/** A clip whose bytes are on the way, locked until the transaction ends. */
async function travellingClip(tx: Tx, id: ClipId, senderId: PersonId) {
  await db(tx).$queryRaw`SELECT 1 FROM "Clip" WHERE id = ${id}::uuid FOR UPDATE`;
  const clip = await db(tx).clip.findFirst({
    where: {
      id,
      uploadedById: senderId,
      removedAt: null,
      OR: [{ lesson: { state: { not: 'withdrawn' } } }, { drillId: { not: null } }],
    },
    select: {
      state: true,
      lesson: { select: { programId: true } },
      drill: { select: { programId: true } },
    },
  });
  const programId = clip?.lesson?.programId ?? clip?.drill?.programId;
  if (!clip || !programId) throw notFound('clip');
  const isOpen = clip.state === 'expected' || clip.state === 'uploading' || clip.state === 'failed';
  return { isOpen, programId: programId as ProgramId };
}

/**
 * Notes that all bytes are stored. Answers the clip's program, or null when it was known (a repeat), so that nothing
 * is queued twice. Throws `not-found` for a clip that was removed meanwhile or is another sender's.
 */
export async function storeClip(
  _system: System,
  tx: Tx,
  id: ClipId,
  facts: { senderId: PersonId; storageKey: string; sizeBytes: number; md5: string },
): Promise<ProgramId | null> {
  const { senderId, ...stored } = facts;
  const clip = await travellingClip(tx, id, senderId);
  if (!clip.isOpen) return null;
  await db(tx).clip.update({
    where: { id },
    data: { ...stored, state: 'uploaded', failCode: null, failDetail: null },
  });
  return clip.programId;
}

/** Notes why the bytes of a clip were refused; the clip can be sent again. A clip that is gone is passed over. */
export async function refuseClip(
  _system: System,
  id: ClipId,
  facts: { senderId: PersonId; fault: ClipFault },
): Promise<void> {
  await db().clip.updateMany({
    where: { id, uploadedById: facts.senderId, state: { in: ['expected', 'uploading', 'failed'] } },
    data: { state: 'failed', failCode: facts.fault },
  });
}
