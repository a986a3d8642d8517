import { writeSystemAudit } from '@/lib/data/audit.write';
import { transaction } from '@/lib/data/transaction';
import { refuseClip, storeClip } from '@/lib/data/uploads.system';
import type { ClipFault } from '@/lib/domain/clips/clip';
import type { System } from '@/lib/domain/people/viewer';
import type { ClipId, PersonId } from '@/lib/domain/shared/ids';
import type { Ports } from './ports';

/**
 * Notes that a clip is stored and asks for its preparing, in one transaction. A repeat changes nothing. Done by the
 * program itself: the last byte may be found by a sweep, long after the sender's phone went away.
 */
export const finishUpload = (
  { queue }: Pick<Ports, 'queue'>,
  system: System,
  clipId: ClipId,
  facts: { senderId: PersonId; storageKey: string; sizeBytes: number; md5: string },
): Promise<void> =>
  transaction(system, async (tx) => {
    const programId = await storeClip(system, tx, clipId, facts);
    if (programId === null) return;
    await queue.prepareClip(clipId, tx);
    await writeSystemAudit(system, tx, programId, { action: 'clip.stored', subject: `clip:${clipId}` });
  });

/** Notes why the bytes of a clip were refused. */
export const refuseUpload = (
  system: System,
  clipId: ClipId,
  facts: { senderId: PersonId; fault: ClipFault },
): Promise<void> => refuseClip(system, clipId, facts);
