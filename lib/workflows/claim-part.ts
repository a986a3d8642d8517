import { claimPart as claim, claimRemark, type PartName } from '@/lib/data/breakdown-parts.write';
import { transaction } from '@/lib/data/transaction';
import type { Viewer } from '@/lib/domain/people/viewer';
import type { RemarkId } from '@/lib/domain/shared/ids';
import type { Ports } from './ports';
import { RECORDING_KEPT } from './start-breakdown';
import { assertContact, loadSide } from './thread-side';

/**
 * Lets a part of a recording take its bytes, or refuses: not the coach's own, kept already, removed, other bytes are
 * stored there, or no adult may reach this player now. Answers whether this one is stored. Spoken remarks reach nobody
 * by themselves, so that only their owner counts.
 */
export const claimPart = (
  { clock }: Pick<Ports, 'clock'>,
  viewer: Viewer,
  part: PartName | { remarkId: RemarkId },
  sizeBytes: number,
): Promise<{ isStored: boolean }> =>
  transaction(viewer, async (tx) => {
    if ('remarkId' in part) return claimRemark(viewer, tx, part.remarkId);
    const { isStored, threadId } = await claim(viewer, tx, part, sizeBytes);
    if (!isStored) assertContact(viewer, await loadSide(viewer, threadId, clock.now(), tx), RECORDING_KEPT);
    return { isStored };
  });
