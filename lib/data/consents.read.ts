import type { ConsentRecord } from '@/lib/domain/consents/consent';
import { isLead, sendsFor, type Viewer } from '@/lib/domain/people/viewer';
import type { PersonId } from '@/lib/domain/shared/ids';
import { prisma } from './client';
import { playersVisibleTo } from './visibility';

/**
 * Every consent about a player in the viewer's program, newest first: for their verified guardians, the player, and
 * leads. Empty for others.
 */
export async function listConsents(
  viewer: Viewer,
  playerId: PersonId,
): Promise<(ConsentRecord & { id: string })[]> {
  const isTheirs = isLead(viewer) || sendsFor(viewer).includes(playerId);
  if (!isTheirs) return [];
  return prisma.consent.findMany({
    where: { programId: viewer.programId, playerId, player: playersVisibleTo(viewer) },
    orderBy: [{ givenAt: 'desc' }, { id: 'desc' }],
    select: {
      id: true,
      byId: true,
      scope: true,
      version: true,
      method: true,
      givenAt: true,
      expiresAt: true,
      withdrawnAt: true,
    },
    take: 200,
  });
}
