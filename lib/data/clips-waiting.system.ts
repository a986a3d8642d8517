import { CLIP_FAULT_FACTS } from '@/lib/domain/clips/clip-faults';
import type { System } from '@/lib/domain/people/viewer';
import type { ClipId } from '@/lib/domain/shared/ids';
import { db } from './client';

const AT_ONCE = 500;

const passingFaults = Object.entries(CLIP_FAULT_FACTS)
  .filter(([, facts]) => facts.retry === 'by-itself')
  .map(([fault]) => fault);

/** Stored clips that are not prepared and have not failed for good, oldest first. */
export async function listUnprepared(_system: System): Promise<ClipId[]> {
  const rows = await db().clip.findMany({
    where: {
      removedAt: null,
      storageKey: { not: null },
      OR: [
        { state: { in: ['uploaded', 'preparing'] } },
        { state: 'failed', failCode: { in: passingFaults } },
      ],
    },
    orderBy: { createdAt: 'asc' },
    take: AT_ONCE,
    select: { id: true },
  });
  return rows.map((row) => row.id as ClipId);
}
