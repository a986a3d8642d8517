import { isStaff, type Viewer } from '@/lib/domain/people/viewer';
import { prisma } from './client';

/** The viewer's own named views of the desk, by name: each a link. Empty for anybody who is not staff. */
export async function listDeskViews(viewer: Viewer): Promise<{ id: string; name: string; query: string }[]> {
  if (!isStaff(viewer)) return [];
  return prisma.deskView.findMany({
    where: { programId: viewer.programId, personId: viewer.personId },
    select: { id: true, name: true, query: true },
    orderBy: { name: 'asc' },
  });
}
