import { v7 as uuid } from 'uuid';
import { consentEnds, type Scope } from '@/lib/domain/consents/consent';
import { sendsFor, type Viewer } from '@/lib/domain/people/viewer';
import { notFound } from '@/lib/domain/shared/errors';
import type { PersonId } from '@/lib/domain/shared/ids';
import { db, type Tx } from './client';
import { playersVisibleTo } from './visibility';

/** What is agreed to, and which words of it. */
export interface Agreed {
  playerId: PersonId;
  scope: Scope;
  version: string;
  method: string;
}

/** Whose consents the viewer gives: those of wards, and one's own when of age. */
const playerFor = (viewer: Viewer, playerId: PersonId) => ({
  AND: [
    { id: playerId },
    { id: { in: sendsFor(viewer) as string[] } },
    playersVisibleTo(viewer),
    viewer.wards.includes(playerId) ? {} : { birthDate: { lte: new Date(viewer.adultsBornUntil) } },
  ],
});

/** Refuses everybody who may not speak for the player, and locks: of two answers at once the second sees the first. */
async function mustSpeakFor(viewer: Viewer, tx: Tx, playerId: PersonId): Promise<void> {
  await db(tx).$queryRaw`SELECT 1 FROM "Person" WHERE id = ${playerId}::uuid FOR UPDATE`;
  if ((await db(tx).person.count({ where: playerFor(viewer, playerId) })) === 0) throw notFound('player');
}

/** Keeps the viewer's consent for a year. For verified guardians of a minor, and for a grown player themselves. */
export async function giveConsent(viewer: Viewer, tx: Tx, agreed: Agreed, at: Date): Promise<void> {
  await mustSpeakFor(viewer, tx, agreed.playerId);
  await db(tx).consent.create({
    data: {
      id: uuid(),
      programId: viewer.programId,
      byId: viewer.personId,
      ...agreed,
      givenAt: at,
      expiresAt: consentEnds(at),
    },
  });
}

/**
 * Takes the viewer's consent back. Somebody who had given none is written down as saying no, so that another
 * guardian's yes does not outweigh it.
 */
export async function withdrawConsent(viewer: Viewer, tx: Tx, agreed: Agreed, at: Date): Promise<void> {
  await mustSpeakFor(viewer, tx, agreed.playerId);
  const mine = {
    programId: viewer.programId,
    playerId: agreed.playerId,
    scope: agreed.scope,
    byId: viewer.personId,
  };
  const { count } = await db(tx).consent.updateMany({
    where: { ...mine, withdrawnAt: null },
    data: { withdrawnAt: at },
  });
  if (count > 0) return;
  const { version, method } = agreed;
  await db(tx).consent.create({
    data: { id: uuid(), ...mine, version, method, givenAt: at, withdrawnAt: at },
  });
}
