import type { CardState } from '@/lib/domain/billing/card';
import type { Viewer } from '@/lib/domain/people/viewer';
import type { LessonId, PackId } from '@/lib/domain/shared/ids';
import { prisma } from './client';
import { familyOf } from './visibility';

/** The last card payments of the viewer's family, newest first: so that the page can say what came of them. */
export async function listCardPayments(
  viewer: Viewer,
  since: Date,
): Promise<{ id: string; state: CardState; lessonId: LessonId | null; packId: PackId | null; at: Date }[]> {
  const rows = await prisma.cardPayment.findMany({
    where: { AND: [familyOf(viewer), { createdAt: { gte: since } }] },
    select: { id: true, state: true, lessonId: true, packId: true, createdAt: true },
    orderBy: [{ createdAt: 'desc' }, { id: 'desc' }],
    take: 20,
  });
  return rows.map(({ createdAt, ...row }) => ({
    ...row,
    at: createdAt,
    lessonId: row.lessonId as LessonId | null,
    packId: row.packId as PackId | null,
  }));
}
