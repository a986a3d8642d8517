import type { Viewer } from '@/lib/domain/people/viewer';
import { db, type Tx } from './client';
import type { Prisma } from './generated/client';

/** The viewer's own address; null for people without one. */
export async function addressOf(viewer: Viewer, tx?: Tx): Promise<string | null> {
  const row = await db(tx).person.findUnique({ where: { id: viewer.personId }, select: { email: true } });
  return row?.email ?? null;
}

/** Accepted invitations to this address, the viewer's own, that still wait for a child to be added. */
export const expectedOf = (viewer: Viewer, email: string | null): Prisma.InvitationWhereInput => ({
  programId: viewer.programId,
  role: 'guardian',
  email: email !== null && viewer.roles.includes('guardian') ? email : { in: [] },
  usedAt: { not: null },
  childName: { not: null },
});
