import { claimPart as claim, claimRemark, type PartName } from '@/lib/data/breakdown-parts.write';
import { transaction } from '@/lib/data/transaction';
import { partPrint } from '@/lib/domain/breakdowns/part-print';
import type { Viewer } from '@/lib/domain/people/viewer';
import { CagepostError } from '@/lib/domain/shared/errors';
import type { RemarkId } from '@/lib/domain/shared/ids';
import { bytesOf } from './bytes-of';
import type { Ports } from './ports';
import { RECORDING_KEPT } from './start-breakdown';
import { assertContact, loadSide } from './thread-side';

const otherBytes = () =>
  new CagepostError(
    'conflict',
    'Another part is stored under this number already. Both are kept: this one on your device. Record that take again.',
  );

/**
 * Lets a part of a recording take its bytes, or refuses: not the coach's own, kept already, removed, another part is
 * stored there, or no adult may reach this player now. Answers whether this one is stored: bytes of its size are, or
 * ones that say the same in the file of an older version, told by the `print` of the part. Spoken remarks reach nobody
 * by themselves, so that only their owner counts.
 */
export const claimPart = async (
  { clock, storage }: Pick<Ports, 'clock' | 'storage'>,
  viewer: Viewer,
  part: PartName | { remarkId: RemarkId },
  sizeBytes: number,
  print?: string,
): Promise<{ isStored: boolean }> => {
  if ('remarkId' in part) return transaction(viewer, (tx) => claimRemark(viewer, tx, part.remarkId));
  const stored = await transaction(viewer, async (tx) => {
    const claimed = await claim(viewer, tx, part, sizeBytes);
    if (!claimed.stored)
      assertContact(viewer, await loadSide(viewer, claimed.threadId, clock.now(), tx), RECORDING_KEPT);
    return claimed.stored;
  });
  if (!stored) return { isStored: false };
  if (stored.sizeBytes !== sizeBytes && !(await says(storage, stored.storageKey, print))) throw otherBytes();
  return { isStored: true };
};

const says = async (storage: Ports['storage'], key: string, print: string | undefined): Promise<boolean> => {
  const bytes = print === undefined ? null : await bytesOf(storage, key);
  // What this server cannot read was stored by a newer one: it does not tell.
  return bytes !== null && (await partPrint(bytes).catch(() => null)) === print;
};
