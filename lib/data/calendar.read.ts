import { isStaff, type Viewer } from '@/lib/domain/people/viewer';
import { prisma } from './client';

/** Whether the viewer's promised times can be read by an address of their own. False for anybody but staff. */
export async function hasCalendar(viewer: Viewer): Promise<boolean> {
  if (!isStaff(viewer)) return false;
  const where = { id: viewer.personId, calendarKey: { not: null } };
  return (await prisma.person.count({ where })) > 0;
}
