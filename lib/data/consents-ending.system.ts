import { SCOPES, type Scope } from '@/lib/domain/consents/consent';
import { dayOfDate, type Day } from '@/lib/domain/people/age';
import type { System } from '@/lib/domain/people/viewer';
import { prisma } from './client';
import type { Prisma } from './generated/client';
import { AT_ONCE, inTurn, laterThan } from './keyset';
import { personRef } from './select';

/** A consent that will end, and who gave it. */
export interface EndingConsent {
  id: string;
  scope: Scope;
  endsAt: Date;
  player: { id: string; name: string; birthDate: Day | null };
  by: { id: string; email: string | null };
}

/** The standing consents of a program that end after the first instant and up to the second, and were not given anew. */
export async function* listConsentsEnding(
  _system: System,
  programId: string,
  { after, until }: { after: Date; until: Date },
): AsyncGenerator<EndingConsent> {
  const pages = inTurn(
    (place) =>
      prisma.consent.findMany({
        where: {
          programId,
          expiresAt: { gt: after, lte: until },
          withdrawnAt: null,
          ...laterThan('expiresAt', place),
        },
        select: endingFacts,
        orderBy: [{ expiresAt: 'asc' }, { id: 'asc' }],
        take: AT_ONCE,
      }),
    ({ expiresAt, id }) => expiresAt && { at: expiresAt, id },
  );
  for await (const rows of pages) yield* await standingOf(programId, rows);
}

const endingFacts = {
  id: true,
  scope: true,
  givenAt: true,
  expiresAt: true,
  byId: true,
  playerId: true,
  player: { select: { ...personRef, birthDate: true, guardians: { select: { guardianId: true } } } },
} satisfies Prisma.ConsentSelect;

/** Those that were not given anew and whose giver still may. */
async function standingOf(
  programId: string,
  rows: readonly Prisma.ConsentGetPayload<{ select: typeof endingFacts }>[],
): Promise<EndingConsent[]> {
  const later = await prisma.consent.findMany({
    where: { programId, playerId: { in: rows.map(({ playerId }) => playerId) } },
    select: { playerId: true, byId: true, scope: true, givenAt: true },
  });
  const people = await prisma.person.findMany({
    where: { id: { in: rows.map(({ byId }) => byId) } },
    select: { id: true, email: true },
  });
  return rows.flatMap(({ id, scope: word, givenAt, expiresAt, byId, playerId, player }) => {
    const scope = SCOPES.find((one) => one === word);
    const by = people.find((one) => one.id === byId);
    const isRenewed = later.some(
      (one) => one.playerId === playerId && one.byId === byId && one.scope === word && one.givenAt > givenAt,
    );
    const stands = byId === playerId || player.guardians.some(({ guardianId }) => guardianId === byId);
    if (!scope || !by || !expiresAt || isRenewed || !stands) return [];
    const birthDate = player.birthDate && dayOfDate(player.birthDate);
    return [{ id, scope, endsAt: expiresAt, player: { id: playerId, name: player.name, birthDate }, by }];
  });
}
