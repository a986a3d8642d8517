import type { PartName } from '@/lib/data/breakdown-parts.write';
import { storePart, storeRemark } from '@/lib/data/breakdown-parts.system';
import { transaction } from '@/lib/data/transaction';
import { readPart } from '@/lib/domain/breakdowns/parse-part';
import { CONTACT_REASON } from '@/lib/domain/people/safeguarding';
import type { System } from '@/lib/domain/people/viewer';
import { CagepostError, notFound } from '@/lib/domain/shared/errors';
import type { PersonId, RemarkId } from '@/lib/domain/shared/ids';
import { bytesOf } from './bytes-of';
import type { Ports } from './ports';
import { RECORDING_KEPT } from './start-breakdown';

/** What the host of an upload tells of a stored part. */
export interface StoredPartFacts {
  senderId: PersonId;
  storageKey: string;
  sizeBytes: number;
  md5: string;
}

/**
 * Notes that a part is stored. A repeat changes nothing. Throws `safeguarding` when a guardian has paused contact
 * since it was claimed: then the bytes go again, and the device still has them.
 */
export async function finishPart(
  { clock, storage }: Pick<Ports, 'clock' | 'storage'>,
  system: System,
  part: PartName | { remarkId: RemarkId },
  facts: StoredPartFacts,
): Promise<void> {
  if ('remarkId' in part) {
    const bytes = await bytesOf(storage, facts.storageKey);
    if (!bytes) throw notFound('remark');
    const { head } = readPart(bytes);
    const { senderId, storageKey } = facts;
    await transaction(system, (tx) =>
      storeRemark(system, tx, part.remarkId, {
        ...{ senderId, storageKey },
        voiceType: head.voiceType,
        durationMs: head.toMs - head.fromMs,
      }),
    );
    return;
  }
  const at = clock.now();
  const contact = await transaction(system, (tx) => storePart(system, tx, part, { ...facts, at }));
  if (contact !== 'open')
    throw new CagepostError('safeguarding', `${CONTACT_REASON[contact]} ${RECORDING_KEPT}`, { contact });
}
