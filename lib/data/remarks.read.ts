import type { RemarkFacts } from '@/lib/domain/breakdowns/breakdown';
import { isStaff, type Viewer } from '@/lib/domain/people/viewer';
import type { RemarkId } from '@/lib/domain/shared/ids';
import { prisma } from './client';
import type { Prisma } from './generated/client';

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

/** The viewer's own shelf of remarks by title, each in its newest version; empty for everybody but staff. */
export async function listRemarks(viewer: Viewer): Promise<RemarkFacts[]> {
  if (!isStaff(viewer)) return [];
  const rows = await prisma.remark.findMany({
    where: { ownerId: viewer.personId, programId: viewer.programId, retiredAt: null },
    select: remarkFacts,
    orderBy: [{ title: 'asc' }, { number: 'desc' }],
    take: 300,
  });
  return rows.map(toRemark);
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
