import type { RemarkFacts } from '@/lib/domain/breakdowns/breakdown';
import { isStaff, type Viewer } from '@/lib/domain/people/viewer';
import type { RemarkId } from '@/lib/domain/shared/ids';
import { prisma } from './client';
import type { Prisma } from './generated/client';
import { afterTitle, titlePlace } from './keyset';

const remarkFacts = {
  id: true,
  seriesId: true,
  number: true,
  title: true,
  text: true,
  storageKey: true,
  durationMs: true,
  createdAt: true,
} satisfies Prisma.RemarkSelect;

const toRemark = ({
  storageKey,
  ...row
}: Prisma.RemarkGetPayload<{ select: typeof remarkFacts }>): RemarkFacts => ({
  ...row,
  id: row.id as RemarkId,
  seriesId: row.seriesId as RemarkId,
  isSpoken: row.durationMs !== null,
  isStored: row.durationMs === null || storageKey !== null,
});

// As many remarks as a coach chooses from while they speak.
const MOST_REMARKS = 300;

/**
 * The viewer's own shelf of remarks by title, each in its newest version; `after` is the `next` of the page before. Empty
 * for everybody but staff.
 */
export async function listRemarks(
  viewer: Viewer,
  { after = null, take = MOST_REMARKS }: { after?: string | null; take?: number } = {},
): Promise<{ rows: RemarkFacts[]; next: string | null }> {
  if (!isStaff(viewer)) return { rows: [], next: null };
  const rows = await prisma.remark.findMany({
    where: {
      ...{ ownerId: viewer.personId, programId: viewer.programId, retiredAt: null },
      ...afterTitle(after),
    },
    select: remarkFacts,
    orderBy: [{ title: 'asc' }, { id: 'asc' }],
    take: take + 1,
  });
  const page = rows.slice(0, take);
  const last = rows.length > take ? page.at(-1) : undefined;
  return { rows: page.map(toRemark), next: last ? titlePlace(last) : null };
}

/** One remark of the viewer's own, in that version, also a retired one; null for everybody else. */
export async function readRemark(viewer: Viewer, id: RemarkId): Promise<RemarkFacts | null> {
  if (!isStaff(viewer)) return null;
  const row = await prisma.remark.findFirst({
    where: { id, ownerId: viewer.personId, programId: viewer.programId },
    select: remarkFacts,
  });
  return row && toRemark(row);
}
